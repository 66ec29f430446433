"""Colour calls: judged by a table with its source, or by a person; what follows."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop.actions.joint import (
    accept_joint,
    call_colour,
    set_colour_table,
    set_joint_covers,
    strip_cover,
)
from fabshop.errors import BadInput, Clash, NeedsAnswer, NotAllowed
from fabshop.records.joint import ColourCall, Joint
from fabshop.records.shop import Person
from fabshop.records.task import Task
from fabshop.words import PrepStage
from tests.actions.joint.prepared import tick_all
from tests.factories import JointFactory, TaskFactory


@pytest.fixture
def titanium(owner: Person) -> Joint:
    return JointFactory(code="J01", metal="titanium", material="ti-9", state="welded")


def state(joint: Joint) -> tuple[str, int]:
    joint.refresh_from_db()
    return joint.state, joint.reworks


@pytest.mark.parametrize("colour", ["silver", "straw", "gold"])
def test_titanium_is_judged_by_the_stricter_standard(
    helper: Person, titanium: Joint, now: datetime, colour: str
) -> None:
    call_colour(by=helper, joint=titanium, colour=colour, now=now)
    call = ColourCall.objects.get()
    assert (call.judged, call.verdict) == ("accept", "accept")
    assert call.by_table.startswith("EN ISO 9606-5:2000: s")
    # Calling a colour accepts nothing by itself.
    assert state(titanium) == ("welded", 0)


@pytest.mark.parametrize(
    "colour", ["brown", "purple", "blue", "green", "grey", "white"]
)
def test_a_rejected_colour_is_a_rework(
    helper: Person, titanium: Joint, now: datetime, colour: str
) -> None:
    twin = JointFactory(metal="titanium", state="accepted", twin=titanium)
    call_colour(by=helper, joint=titanium, colour=colour, now=now)
    assert state(titanium) == ("rework", 1)
    assert state(twin) == ("welded", 0)
    assert twin.inspect_why.startswith("twin J01 failed, colour ")


def test_the_table_is_overruled_with_a_reason_and_accepted_so_by_the_owner(
    owner: Person, helper: Person, titanium: Joint, now: datetime
) -> None:
    said = {"joint": titanium, "colour": "brown", "verdict": "accept", "now": now}
    with pytest.raises(BadInput, match="Overrule it with a reason or not at all"):
        call_colour(by=owner, **said)
    with pytest.raises(NotAllowed, match="Only the owner accepts what the table"):
        call_colour(by=helper, **said, reason="only at the tab")
    call_colour(by=owner, **said, reason="only at the tab")
    call = ColourCall.objects.get()
    assert (call.judged, call.verdict, call.reason) == (
        "reject",
        "accept",
        "only at the tab",
    )
    assert state(titanium) == ("welded", 0)


def test_anybody_may_be_stricter_than_the_table(
    helper: Person, titanium: Joint, now: datetime
) -> None:
    call_colour(
        by=helper,
        joint=titanium,
        colour="straw",
        verdict="reject",
        reason="undercut",
        now=now,
    )
    assert state(titanium) == ("rework", 1)
    assert titanium.found == "colour straw, light, undercut"


def test_the_shop_may_set_another_table_and_its_source_is_shown(
    owner: Person, helper: Person, titanium: Joint, now: datetime
) -> None:
    table = {
        "metal": "titanium",
        "name": "Ours",
        "source": "customer's sheet",
        "now": now,
    }
    verdicts = {"silver": "accept", "brown": "accept", "blue": "reject"}
    with pytest.raises(NotAllowed):
        set_colour_table(by=helper, verdicts=verdicts, **table)
    set_colour_table(by=owner, verdicts=verdicts, **table)
    call_colour(by=helper, joint=titanium, colour="brown", now=now)
    assert ColourCall.objects.get().by_table == "Ours: customer's sheet"
    with pytest.raises(NeedsAnswer, match="No table"):
        call_colour(by=helper, joint=titanium, colour="green", now=now)


def test_other_metals_are_for_the_person_to_judge(
    helper: Person, now: datetime
) -> None:
    joint = JointFactory(state="welded")
    with pytest.raises(NeedsAnswer, match="on 304. Accept or reject") as asked:
        call_colour(by=helper, joint=joint, colour="gold", now=now)
    assert (asked.value.code, asked.value.field) == ("say-verdict", "verdict")
    call_colour(by=helper, joint=joint, colour="gold", verdict="accept", now=now)
    call = ColourCall.objects.get()
    assert (call.judged, call.by_table) == ("person", "")


def test_lines_beside_a_silver_bead_are_for_a_person(
    helper: Person, titanium: Joint, now: datetime
) -> None:
    with pytest.raises(NeedsAnswer):
        call_colour(by=helper, joint=titanium, colour="lines-beside", now=now)


def test_row_42_there_is_no_colour_of_what_is_not_welded(
    helper: Person, now: datetime
) -> None:
    joint = JointFactory(code="J17", state="tacked")
    with pytest.raises(Clash, match="is tacked: there is no weld") as refused:
        call_colour(by=helper, joint=joint, colour="silver", now=now)
    assert refused.value.status == 409
    with pytest.raises(BadInput, match="“sky” is none of silver"):
        Joint.objects.update(state="welded")
        call_colour(by=helper, joint=joint, colour="sky", now=now)


def test_row_42_paint_over_a_joint_makes_the_call_impossible_until_it_is_off(
    owner: Person, helper: Person, titanium: Joint, now: datetime
) -> None:
    paint = TaskFactory(code="W36", title="Touch-in", build=titanium.build)
    set_joint_covers(by=owner, joint=titanium, tasks=[("paints", paint)], now=now)
    Task.objects.update(state="done", done_at=now)
    with pytest.raises(Clash, match="painted over, W36 Touch-in") as refused:
        call_colour(by=helper, joint=titanium, colour="silver", now=now)
    assert (refused.value.status, refused.value.code) == (409, "painted")
    strip_cover(by=helper, cover=titanium.covers.get(), reason="stripper", now=now)
    # Taken off at the minute it was put on: still off.
    Task.objects.update(done_at=now.replace(hour=1))
    call_colour(by=helper, joint=titanium, colour="silver", now=now)


def test_a_painted_weld_is_accepted_with_its_colour_waived(
    owner: Person, titanium: Joint, now: datetime
) -> None:
    paint = TaskFactory(code="W36", build=titanium.build)
    set_joint_covers(by=owner, joint=titanium, tasks=[("paints", paint)], now=now)
    Task.objects.update(state="done", done_at=now)
    tick_all(owner, titanium, now, until=PrepStage.LOOK)
    with pytest.raises(Clash, match="has not been called"):
        accept_joint(by=owner, joint=titanium, now=now)
    accept_joint(by=owner, joint=titanium, now=now, waive_colour="painted, dye-checked")
    assert state(titanium) == ("accepted", 0)


def test_the_third_rejection_by_colour_asks_too(
    helper: Person, titanium: Joint, now: datetime
) -> None:
    Joint.objects.update(reworks=2)
    with pytest.raises(NeedsAnswer, match="rework 3"):
        call_colour(by=helper, joint=titanium, colour="blue", now=now)
    assert not ColourCall.objects.exists()
    call_colour(by=helper, joint=titanium, colour="blue", third="cut out", now=now)
    assert state(titanium) == ("rework", 3)
