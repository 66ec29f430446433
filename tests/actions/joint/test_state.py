"""Joints go on: not past a stop, not on stale cleaning, accepted by the owner."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from fabshop.actions.joint import (
    accept_joint,
    add_joint,
    call_colour,
    move_joint,
    reject_joint,
    set_prep_hours,
    tick_step,
)
from fabshop.errors import BadInput, Clash, NeedsAnswer, NotAllowed
from fabshop.records.joint import Joint, JointMove
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.words import PrepStage
from tests.actions.joint.prepared import accepted, tick_all, welded
from tests.factories import BuildFactory, JointFactory


@pytest.fixture
def joint(owner: Person) -> Joint:
    return JointFactory(code="J17")


def test_a_stop_step_that_is_open_bars_the_tack_and_is_named(
    helper: Person, joint: Joint, now: datetime
) -> None:
    move_joint(by=helper, joint=joint, state="coped", now=now)
    with pytest.raises(Clash, match="J17 is not tacked yet, 4 stop steps open: 1 Mat"):
        move_joint(by=helper, joint=joint, state="tacked", now=now)
    tick_all(helper, joint, now, until=PrepStage.TACK)
    tacked = move_joint(by=helper, joint=joint, state="tacked", now=now)
    assert tacked.state == "tacked"
    with pytest.raises(Clash, match="not welded yet, 2 stop steps open") as refused:
        move_joint(by=helper, joint=joint, state="welded", now=now)
    assert (refused.value.code, refused.value.field) == ("stop-open", "state")


def test_a_purge_that_still_runs_says_until_when(
    helper: Person, joint: Joint, now: datetime
) -> None:
    tick_all(helper, joint, now, until=PrepStage.WELD)
    tick_step(by=helper, joint=joint, number=9, minutes=4, now=now)
    with pytest.raises(Clash, match=r"Back purge on.*\(runs until 06:49\)"):
        move_joint(by=helper, joint=joint, state="welded", now=now)
    later = now + timedelta(minutes=4)
    assert move_joint(by=helper, joint=joint, state="welded", now=later).pk


def test_a_tap_that_comes_in_late_is_judged_by_when_it_was_made(
    helper: Person, joint: Joint, now: datetime
) -> None:
    tick_all(helper, joint, now, until=PrepStage.WELD)
    tick_step(by=helper, joint=joint, number=9, minutes=4, now=now)
    later = now + timedelta(hours=1)
    with pytest.raises(Clash, match="runs until"):
        early = now + timedelta(minutes=2)
        move_joint(by=helper, joint=joint, state="welded", now=later, at=early)


def test_stale_cleaning_is_done_again_or_waived_by_the_owner(
    owner: Person, helper: Person, joint: Joint, now: datetime
) -> None:
    tick_all(helper, joint, now, until=PrepStage.WELD)
    later = now + timedelta(hours=8)
    with pytest.raises(NeedsAnswer, match="cleaned 8 h 05 ago.*ask the owner") as asked:
        move_joint(by=helper, joint=joint, state="welded", now=later, reason="ok")
    assert asked.value.code == "stale"
    assert "rule of thumb" in asked.value.message
    with pytest.raises(NeedsAnswer, match="go on with a reason"):
        move_joint(by=owner, joint=joint, state="welded", now=later)
    move_joint(by=owner, joint=joint, state="welded", now=later, reason="kept bagged")
    assert JointMove.objects.get().reason == "kept bagged"


def test_the_hours_that_clean_counts_are_the_shops_own(
    owner: Person, helper: Person, joint: Joint, now: datetime
) -> None:
    tick_all(helper, joint, now, until=PrepStage.WELD)
    later = now + timedelta(hours=9)
    with pytest.raises(NotAllowed):
        set_prep_hours(by=helper, clean_minutes=6000, now=now)
    set_prep_hours(by=owner, clean_minutes=24 * 60, now=now)
    assert move_joint(by=helper, joint=joint, state="welded", now=later).pk


def test_row_65_only_the_owner_accepts_a_weld(
    owner: Person, helper: Person, joint: Joint, now: datetime
) -> None:
    welded(helper, joint, now)
    tick_all(helper, joint, now, until=PrepStage.LOOK)
    call_colour(by=helper, joint=joint, colour="silver", verdict="accept", now=now)
    with pytest.raises(NotAllowed, match="Only the owner accepts a weld"):
        accept_joint(by=helper, joint=joint, now=now)
    assert accept_joint(by=owner, joint=joint, now=now).state == "accepted"


def test_a_weld_is_accepted_looked_at_cooled_and_called(
    owner: Person, joint: Joint, now: datetime
) -> None:
    with pytest.raises(Clash, match="only a welded joint is accepted"):
        accept_joint(by=owner, joint=joint, now=now)
    welded(owner, joint, now)
    with pytest.raises(Clash, match="Post-flow held until cool"):
        accept_joint(by=owner, joint=joint, now=now)
    tick_all(owner, joint, now, until=PrepStage.LOOK)
    with pytest.raises(Clash, match="has not been called") as refused:
        accept_joint(by=owner, joint=joint, now=now)
    assert refused.value.field == "waive_colour"
    done = accept_joint(by=owner, joint=joint, now=now, waive_colour="brushed already")
    assert done.moves.last().reason == "colour waived: brushed already"


def test_no_tap_goes_round_the_rejection_or_the_acceptance(
    owner: Person, joint: Joint, now: datetime
) -> None:
    with pytest.raises(Clash, match="by being rejected"):
        move_joint(by=owner, joint=joint, state="rework", now=now)
    with pytest.raises(Clash, match="only a welded joint is accepted"):
        move_joint(by=owner, joint=joint, state="accepted", now=now)
    with pytest.raises(BadInput, match="“glued” is none of planned"):
        move_joint(by=owner, joint=joint, state="glued", now=now)


def test_a_rejected_weld_is_counted_and_its_twin_looked_at_again(
    owner: Person, helper: Person, joint: Joint, now: datetime
) -> None:
    twin = JointFactory(code="J18", twin=joint)
    joint.twin = twin
    joint.save()
    accepted(owner, joint, now)
    accepted(owner, twin, now)
    reject_joint(by=helper, joint=joint, reason="toe crack 3 mm", now=now)
    joint.refresh_from_db()
    twin.refresh_from_db()
    assert (joint.state, joint.reworks, joint.found) == ("rework", 1, "toe crack 3 mm")
    assert twin.state == "welded"
    assert twin.inspect_why == "twin J17 failed, toe crack 3 mm"
    with pytest.raises(Clash, match="must be looked at again: twin J17 failed"):
        accept_joint(by=owner, joint=twin, now=now)
    accept_joint(by=owner, joint=twin, now=now, looked="no crack under the glass")
    twin.refresh_from_db()
    assert (twin.inspect_why, twin.found) == ("", "no crack under the glass")


def test_a_new_attempt_has_a_checklist_of_its_own(
    owner: Person, joint: Joint, now: datetime
) -> None:
    welded(owner, joint, now)
    reject_joint(by=owner, joint=joint, reason="grey root", now=now)
    with pytest.raises(Clash, match="stop steps open"):
        move_joint(by=owner, joint=joint, state="welded", now=now)
    welded(owner, joint, now)
    assert [run.attempt for run in joint.runs.all()] == [0, 1]


def test_row_43_the_third_rework_asks_whether_it_is_cut_out(
    owner: Person, joint: Joint, now: datetime
) -> None:
    Joint.objects.update(state="welded", reworks=2)
    with pytest.raises(NeedsAnswer, match="rework 3 of J17. Cut it out") as asked:
        reject_joint(by=owner, joint=joint, reason="crack", now=now)
    assert (asked.value.code, asked.value.field) == ("third-rework", "third")
    reject_joint(by=owner, joint=joint, reason="crack", third="gusset over it", now=now)
    assert joint.moves.last().reason == "crack; gusset over it"


def test_a_rejection_says_what_is_wrong_with_a_weld_there_is(
    owner: Person, joint: Joint, now: datetime
) -> None:
    with pytest.raises(Clash, match="there is no weld to reject"):
        reject_joint(by=owner, joint=joint, reason="crack", now=now)
    welded(owner, joint, now)
    with pytest.raises(BadInput, match="Say what is wrong"):
        reject_joint(by=owner, joint=joint, reason=" ", now=now)


def test_two_phones_do_not_weld_by_what_one_of_them_has_not_seen(
    owner: Person, helper: Person, joint: Joint, now: datetime
) -> None:
    seen = joint.version
    move_joint(by=owner, joint=joint, state="coped", now=now, seen_version=seen)
    with pytest.raises(Clash, match="it is coped by now"):
        move_joint(by=helper, joint=joint, state="dry-fit", now=now, seen_version=seen)
    # Saying what is so already is no clash but of the version.
    assert move_joint(by=helper, joint=joint, state="coped", now=now).state == "coped"
    assert LogEntry.objects.filter(kind="joint").count() == 1


def test_a_weld_taken_over_is_held_to_what_can_still_be_looked_at(
    owner: Person, now: datetime
) -> None:
    joint = add_joint(
        by=owner,
        now=now,
        build=BuildFactory(),
        code="J08",
        name="Brace R foot",
        material="4130",
        cut_od_um=8000,
        cut_wall_um=900,
        onto_od_um=8000,
        angle_mdeg=41_200,
        cut_heat_lot="4R118",
        onto_heat_lot="4R118",
        state="welded",
        taken_over="the notebook",
        inspect_why="twin J07 failed",
    )
    with pytest.raises(Clash, match="Left to cool in still air") as refused:
        accept_joint(by=owner, joint=joint, now=now, looked="no crack")
    assert "Degreased" not in refused.value.message
    for number in (10, 11):
        tick_step(by=owner, joint=joint, number=number, now=now)
    accept_joint(by=owner, joint=joint, now=now, looked="no crack")
    reject_joint(by=owner, joint=joint, reason="crack after all", now=now)
    with pytest.raises(Clash, match="Degreased"):
        move_joint(by=owner, joint=joint, state="welded", now=now)
