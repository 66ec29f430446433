"""What the page of a plan tells as the work goes on."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from fabshop import words
from fabshop.actions.plan import tick_to
from fabshop.reckoning.facts import Facts, TaskFact
from fabshop.records.order import OrderLine
from fabshop.records.plan import Plan
from fabshop.records.shop import Person
from fabshop.records.task import Task
from fabshop.snapshot import take
from fabshop.web.plan_page import bar_over, plan_context
from tests.factories import MOMENT

pytestmark = pytest.mark.usefixtures("frozen")


@pytest.fixture
def hold(demo_plan: Plan) -> tuple[TaskFact, Facts]:
    facts = take(MOMENT)
    return facts.task_by_id["W23"], facts


def test_a_hold_keeps_closed_over_it_what_lies_over_its_zone(
    hold: tuple[TaskFact, Facts],
) -> None:
    task, facts = hold
    said = "Hold: do not close T02 T10 T11 T14 T20 until W23 is signed."
    assert bar_over(task, facts, "") == said


@pytest.mark.parametrize(
    "verdict", [words.HoldVerdict.SIGNED, words.HoldVerdict.WAIVED]
)
def test_a_hold_that_is_passed_says_so(
    hold: tuple[TaskFact, Facts], verdict: words.HoldVerdict
) -> None:
    task, facts = hold
    done = replace(task, hold=verdict, state=words.TaskState.DONE)
    assert bar_over(done, facts, "") == "Hold W23 is passed."


def test_what_keeps_nothing_open_has_no_bar(hold: tuple[TaskFact, Facts]) -> None:
    _, facts = hold
    assert bar_over(facts.task_by_id["W25"], facts, "") == ""


def test_a_cure_that_runs_is_told_with_its_end(demo_plan: Plan, odile: Person) -> None:
    glue = demo_plan.steps.get(task__code="W24")
    assert plan_context(demo_plan)["curing"] == []
    tick_to(by=odile, plan=demo_plan, number=glue.number, now=MOMENT)
    assert plan_context(demo_plan)["curing"] == ["W24 cures until Fri 3 Sep 16:45"]


def test_a_part_booked_in_is_waited_for_no_more(demo_plan: Plan) -> None:
    gates = {gate["line"]: gate for gate in plan_context(demo_plan)["gates"]}
    assert not gates["P06/1"]["in_hand"]
    assert gates["P06/1"]["decide_by"] == "Sat 18 Sep 18:00"
    assert gates["P06/1"]["plan_b"] == ["W21: Spare board SP2"]
    OrderLine.objects.get(order__code="P06").receipts.create(
        kind="counted",
        counted_milli=2000,
        accepted_milli=2000,
        wrong_milli=0,
        parcel="p",
        at=MOMENT,
        client_id="came",
    )
    gates = {gate["line"]: gate for gate in plan_context(demo_plan)["gates"]}
    assert gates["P06/1"]["in_hand"]
    assert gates["P06/1"]["plan_b"] == []


def test_what_was_done_before_is_not_asked_for_any_more(demo_plan: Plan) -> None:
    before = {row["task"].id: row for row in plan_context(demo_plan)["before"]}
    assert before["W16"]["for"] == ["W22"]
    assert before["W16"]["binds"]
    assert not before["W69"]["binds"]
    done_at: datetime = MOMENT - timedelta(hours=1)
    Task.objects.filter(code="W16").update(state="done", done_at=done_at)
    assert "W16" not in {row["task"].id for row in plan_context(demo_plan)["before"]}


def test_what_nothing_is_in_the_way_of_is_named(demo_plan: Plan, odile: Person) -> None:
    assert "W25" not in plan_context(demo_plan)["can_do"]
    tick_to(by=odile, plan=demo_plan, number=1, now=MOMENT)
    OrderLine.objects.get(order__code="P12").receipts.create(
        kind="counted",
        counted_milli=1000,
        accepted_milli=1000,
        wrong_milli=0,
        parcel="p",
        at=MOMENT,
        client_id="came",
    )
    over = ("T02", "T03", "T04", "T23", "T26", "T27", "T34")
    demo_plan.build.components.filter(code__in=over).update(is_on=False)
    assert "W25" in plan_context(demo_plan)["can_do"]
