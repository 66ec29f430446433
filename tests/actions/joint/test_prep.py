"""Checklists ticked at the bench, on more than one phone."""

from __future__ import annotations

from datetime import datetime, timedelta
from decimal import Decimal

import pytest

from fabshop.actions.joint import begin_prep, change_template, tick_step
from fabshop.actions.joint.prep import prep_now
from fabshop.errors import BadInput, Clash, NotAllowed, NotFound
from fabshop.records.joint import Joint, PrepRun, PrepTick
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from tests.factories import JointFactory

PURGE = 9


@pytest.fixture
def joint(owner: Person) -> Joint:
    return JointFactory(code="J17")


def test_the_first_tick_begins_the_checklist_and_keeps_its_version(
    owner: Person, helper: Person, joint: Joint, now: datetime
) -> None:
    tick_step(by=helper, joint=joint, number=1, now=now)
    run = PrepRun.objects.get()
    assert (run.attempt, run.template.version) == (0, 1)
    change_template(
        by=owner, metal="stainless", steps=[{"text": "Look at it"}], now=now
    )
    tick_step(by=helper, joint=joint, number=6, now=now)
    assert len(prep_now(joint, now).stands) == run.template.steps.count() > 1


def test_a_tick_twice_is_one_and_is_in_the_log(
    helper: Person, joint: Joint, now: datetime
) -> None:
    for _ in range(2):
        tick_step(by=helper, joint=joint, number=1, now=now, client_id="t")
    assert PrepTick.objects.count() == 1
    assert LogEntry.objects.get(client_id="t").text.startswith("J17: Material ident")


def test_a_purge_asks_for_its_minutes_and_runs_on_without_the_phone(
    helper: Person, joint: Joint, now: datetime
) -> None:
    with pytest.raises(BadInput, match="how many minutes"):
        tick_step(by=helper, joint=joint, number=PURGE, now=now)
    tick_step(by=helper, joint=joint, number=PURGE, minutes=4, now=now)
    stand = prep_now(joint, now).stands[PURGE - 1]
    assert stand.is_running
    assert stand.ends_at == now + timedelta(minutes=4)
    assert prep_now(joint, now + timedelta(minutes=4)).stands[PURGE - 1].is_done


def test_the_shops_own_minutes_are_not_cut_short(
    owner: Person, joint: Joint, now: datetime
) -> None:
    purge = {"text": "Purge", "kind": "minutes", "minutes": 5, "stage": "weld"}
    change_template(by=owner, metal="stainless", steps=[purge], now=now)
    with pytest.raises(BadInput, match="3 min is less than the 5"):
        tick_step(by=owner, joint=joint, number=1, minutes=3, now=now)
    tick_step(by=owner, joint=joint, number=1, now=now)
    assert PrepTick.objects.get().minutes == 5


def test_a_figure_is_written_or_refused(
    helper: Person, joint: Joint, now: datetime
) -> None:
    for value in (None, Decimal("-1"), Decimal("NaN"), Decimal("1e9")):
        with pytest.raises(BadInput, match="figure"):
            tick_step(by=helper, joint=joint, number=2, value=value, now=now)
    tick_step(by=helper, joint=joint, number=2, value=Decimal("0.30"), now=now)
    assert LogEntry.objects.last() is not None
    assert prep_now(joint, now).stands[1].is_done


def test_who_may_not_write_does_not_tick(
    viewer: Person, joint: Joint, now: datetime
) -> None:
    with pytest.raises(NotAllowed):
        tick_step(by=viewer, joint=joint, number=1, now=now)


def test_no_step_of_that_number_is_said(
    helper: Person, joint: Joint, now: datetime
) -> None:
    with pytest.raises(NotFound, match="no step 99"):
        tick_step(by=helper, joint=joint, number=99, now=now)


def test_a_tick_is_taken_away_until_the_joint_went_on_by_it(
    helper: Person, joint: Joint, now: datetime
) -> None:
    tick_step(by=helper, joint=joint, number=1, now=now)
    tick_step(by=helper, joint=joint, number=1, now=now, is_done=False)
    assert not prep_now(joint, now).stands[0].is_done
    Joint.objects.update(state="tacked")
    with pytest.raises(Clash, match="J17 is tacked by this step"):
        tick_step(by=helper, joint=joint, number=1, now=now, is_done=False)
    # What only comes before the weld may still be taken away.
    tick_step(by=helper, joint=joint, number=8, now=now, is_done=False)


def test_an_accepted_joint_is_not_ticked_any_more(
    helper: Person, joint: Joint, now: datetime
) -> None:
    Joint.objects.update(state="accepted")
    for act in (begin_prep, lambda **said: tick_step(number=1, **said)):
        with pytest.raises(Clash, match="its checklist is closed"):
            act(by=helper, joint=joint, now=now)


def test_a_checklist_is_begun_once(helper: Person, joint: Joint, now: datetime) -> None:
    begin_prep(by=helper, joint=joint, now=now)
    begin_prep(by=helper, joint=joint, now=now)
    assert PrepRun.objects.count() == 1
