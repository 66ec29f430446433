"""Ticks move the parts and the tasks with them, once, in one go or not at all."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from fabshop.actions.build import take_off
from fabshop.actions.log import finish_work, start_work
from fabshop.actions.plan import (
    accept_plan,
    ask_teardown,
    is_done,
    is_ticked,
    tick_step,
    tick_to,
)
from fabshop.errors import BadInput, Clash, NeedsAnswer, NotAllowed, ShopError
from fabshop.records.build import Build, Component
from fabshop.records.log import LogEntry
from fabshop.records.plan import Plan, PlanStep, StepTick
from fabshop.records.shop import Person
from fabshop.records.task import Task
from tests.factories import ReadingFactory, SiteFactory, StageFactory


def step(plan: Plan, number: int) -> PlanStep:
    return plan.steps.get(number=number)


def is_on(code: str) -> bool:
    return Component.objects.get(code=code).is_on


def test_a_removal_ticked_takes_the_part_off_and_back_again(
    accepted: Plan, helper: Person, now: datetime
) -> None:
    tick_step(by=helper, step=step(accepted, 1), now=now)
    assert not is_on("R01")
    tick_step(by=helper, step=step(accepted, 1), now=now, done=False)
    assert is_on("R01")
    assert not is_ticked(step(accepted, 1))


def test_two_ticks_of_one_step_are_one(
    accepted: Plan, owner: Person, helper: Person, now: datetime
) -> None:
    first = tick_step(by=owner, step=step(accepted, 1), now=now, client_id="a")
    again = tick_step(by=owner, step=step(accepted, 1), now=now, client_id="a")
    other = tick_step(by=helper, step=step(accepted, 1), now=now, client_id="b")
    assert first == again == other
    assert StepTick.objects.count() == 1
    assert LogEntry.objects.filter(kind="step").count() == 1


def test_all_to_a_step_does_all_of_it(
    accepted: Plan, owner: Person, now: datetime
) -> None:
    ticks = tick_to(by=owner, plan=accepted, number=5, now=now, client_id="x")
    assert len(ticks) == 5
    assert is_on("R01")
    assert is_on("R02")
    assert Task.objects.get(code="W01").state == "done"
    again = tick_to(by=owner, plan=accepted, number=5, now=now, client_id="x")
    assert [tick.pk for tick in again] == [tick.pk for tick in ticks]


def test_row_8_a_refit_over_an_unsigned_hold_is_refused_and_nothing_is_ticked(
    wren: Build, owner: Person, now: datetime
) -> None:
    hold = Task.objects.get(code="W01")
    Task.objects.filter(pk=hold.pk).update(is_hold=True)
    ReadingFactory(task=hold, number=1, label="motor turns", kind="tick")
    SiteFactory(task=hold, component=Component.objects.get(code="R02"), kind="reach")
    plan = accept_plan(
        by=owner, plan=ask_teardown(by=owner, build=wren, now=now), now=now
    )
    with pytest.raises(ShopError, match="W01"):
        tick_to(by=owner, plan=plan, number=5, now=now)
    assert StepTick.objects.count() == 0
    assert is_on("R01")


def test_what_was_never_ticked_cannot_be_taken_back(
    accepted: Plan, owner: Person, now: datetime
) -> None:
    with pytest.raises(BadInput, match="Step 2 is not ticked"):
        tick_step(by=owner, step=step(accepted, 2), now=now, done=False)


def test_a_step_that_is_not_there_is_named(
    accepted: Plan, owner: Person, now: datetime
) -> None:
    with pytest.raises(BadInput, match="no step 99"):
        tick_to(by=owner, plan=accepted, number=99, now=now)


def test_a_viewer_ticks_nothing(accepted: Plan, viewer: Person, now: datetime) -> None:
    with pytest.raises(NotAllowed):
        tick_step(by=viewer, step=step(accepted, 1), now=now)


def test_a_proposed_plan_has_nothing_to_tick(
    wren: Build, owner: Person, now: datetime
) -> None:
    asked = ask_teardown(by=owner, build=wren, now=now)
    with pytest.raises(Clash, match="not accepted yet"):
        tick_to(by=owner, plan=asked, number=1, now=now)


def test_row_59_a_tick_on_an_old_sheet_lands_in_the_edition_that_holds(
    accepted: Plan, wren: Build, owner: Person, now: datetime
) -> None:
    newer = accept_plan(
        by=owner, plan=ask_teardown(by=owner, build=wren, now=now), now=now
    )
    tick = tick_step(by=owner, step=step(accepted, 1), now=now)
    assert tick.step.plan == newer
    accepted.refresh_from_db()
    with pytest.raises(Clash, match="edition A, the plan is edition B"):
        tick_to(by=owner, plan=accepted, number=1, now=now)


def test_a_forgotten_timer_asks_before_the_step_is_ticked(
    accepted: Plan, owner: Person, now: datetime
) -> None:
    tick_to(by=owner, plan=accepted, number=2, now=now)
    start_work(by=owner, task=Task.objects.get(code="W01"), now=now)
    later = now + timedelta(hours=9)
    with pytest.raises(NeedsAnswer):
        tick_step(by=owner, step=step(accepted, 3), now=later)
    tick_step(
        by=owner,
        step=step(accepted, 3),
        now=later,
        ended_at=now + timedelta(hours=1),
    )
    booked = LogEntry.objects.exclude(minutes=None).get(task__code="W01")
    assert booked.minutes == 60


@pytest.fixture
def glued(wren: Build, owner: Person, now: datetime) -> Plan:
    """The loom is glued and keeps the lid off for ten hours."""
    loom = Task.objects.get(code="W01")
    StageFactory(task=loom, number=2, kind="cure", minutes=600)
    lid = Component.objects.get(code="R01")
    SiteFactory(task=loom, component=lid, kind="keeps-open")
    asked = ask_teardown(by=owner, build=wren, now=now)
    return accept_plan(by=owner, plan=asked, now=now)


def test_a_cure_is_asked_about_before_it_is_closed_over(
    glued: Plan, helper: Person, now: datetime
) -> None:
    tick_to(by=helper, plan=glued, number=4, now=now)
    on = glued.steps.get(component__code="R01", does="refit")
    with pytest.raises(NeedsAnswer, match=r"W01 .* cures until 16:45 and keeps R01"):
        tick_step(by=helper, step=on, now=now + timedelta(hours=1))
    assert not is_on("R01")
    tick_step(by=helper, step=on, now=now + timedelta(hours=1), confirm=True)
    assert is_on("R01")


def test_once_it_is_cured_nothing_is_asked(
    glued: Plan, helper: Person, now: datetime
) -> None:
    tick_to(by=helper, plan=glued, number=4, now=now)
    on = glued.steps.get(component__code="R01", does="refit")
    tick_step(by=helper, step=on, now=now + timedelta(hours=10))
    assert is_on("R01")


def test_all_to_a_step_asks_in_the_name_of_the_step_and_ticks_nothing(
    glued: Plan, helper: Person, now: datetime
) -> None:
    with pytest.raises(NeedsAnswer, match="Step 5: W01"):
        tick_to(by=helper, plan=glued, number=5, now=now)
    assert StepTick.objects.count() == 0


def test_what_was_done_without_a_tick_counts_as_done(
    accepted: Plan, helper: Person, now: datetime
) -> None:
    lid, deck, loom = (step(accepted, n) for n in (1, 2, 3))
    assert [is_done(one) for one in (lid, deck, loom)] == [False] * 3
    take_off(by=helper, component=lid.component, now=now)
    finish_work(by=helper, task=loom.task, now=now)
    assert is_done(step(accepted, 1))
    assert not is_done(step(accepted, 2))
    assert is_done(step(accepted, 3))
    assert not is_done(step(accepted, 5)), "the lid was not put back on"


def test_a_tick_taken_back_counts_for_more_than_how_things_stand(
    accepted: Plan, helper: Person, now: datetime
) -> None:
    tick_step(by=helper, step=step(accepted, 1), now=now)
    tick_step(by=helper, step=step(accepted, 1), now=now, done=False)
    Component.objects.filter(code="R01").update(is_on=False)
    assert not is_done(step(accepted, 1))


def test_a_removal_ticked_by_mistake_is_taken_back_over_an_unsigned_hold(
    accepted: Plan, helper: Person, now: datetime
) -> None:
    """It never came off, so it closes nothing that was open."""
    loom = Task.objects.get(code="W01")
    Task.objects.filter(pk=loom.pk).update(is_hold=True)
    SiteFactory(task=loom, component=Component.objects.get(code="R02"), kind="reach")
    tick_step(by=helper, step=step(accepted, 1), now=now)
    tick_step(by=helper, step=step(accepted, 1), now=now, done=False)
    assert is_on("R01")
    assert LogEntry.objects.filter(text="Step 1 was not done after all.").exists()
