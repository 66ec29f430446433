"""The full model, one statement at a time."""

from __future__ import annotations

from typing import Any

from fabshop.reckoning import solver
from fabshop.reckoning.teardown.choice import Choice, Step
from fabshop.reckoning.teardown.order import Order
from fabshop.reckoning.teardown.scope import whole_scope
from fabshop.reckoning.teardown.timing import Plan
from tests.reckoning.teardown.asked import DECK, LID, LOOM, problem


def ordered(sessions: int = 1, **changes: Any) -> Plan | None:
    """Some order of all tasks with the least handling; None where there is none."""
    asked = problem(**changes)
    order = Order(Choice(asked, whole_scope(asked, sessions)))
    for literal in order.choice.taken.values():
        order.model.add(literal == 1)
    handling = order.choice.handling()
    if not isinstance(handling, int):
        order.model.minimize(handling)
    outcome = solver.run(order.model, limit_s=20)
    return order.plan(outcome) if outcome.is_solved else None


def names(plan: Plan | None) -> list[tuple[str, int]]:
    assert plan is not None
    return [(step.do, step.index) for steps in plan for step in steps]


def test_the_outermost_comes_off_first_and_goes_on_last() -> None:
    assert names(ordered()) == [
        ("remove", 0), ("remove", 1), ("task", 0), ("refit", 1), ("refit", 0),
    ]  # fmt: skip


def test_instant_handling_has_an_order_too() -> None:
    light = [{**LID, "off": 0, "on": 0}, {**DECK, "off": 0, "on": 0}]
    assert names(ordered(components=light)) == names(ordered())


def test_two_places_that_lie_off_under_each_other_cannot_both_go_on() -> None:
    ring = [
        {"id": "a", "off": 0, "on": 0, "routes": [["b"]], "state": "off"},
        {"id": "b", "off": 0, "on": 0, "routes": [["a"]], "state": "off"},
    ]
    assert ordered(components=ring, tasks=[{"id": "t", "minutes": 1}]) is None


def test_closed_work_comes_when_all_is_on() -> None:
    plan = ordered(tasks=[{"id": "drive", "minutes": 9, "closed": True}, LOOM])
    assert names(plan)[-1] == ("task", 0)


def test_what_is_kept_open_goes_on_after_the_test() -> None:
    test = {"id": "test", "minutes": 5, "keeps_open": ["deck"]}
    order = names(ordered(tasks=[LOOM, test]))
    assert order.index(("task", 1)) < order.index(("refit", 1))


def test_work_waits_until_what_came_before_has_cured() -> None:
    glue = {"id": "glue", "minutes": 5, "cure": 24 * 60 + 175}
    assert ordered(tasks=[glue, {"id": "t", "minutes": 1, "after": ["glue"]}]) is None
    glue["cure"] = 24 * 60 + 174
    assert ordered(tasks=[glue, {"id": "t", "minutes": 1, "after": ["glue"]}])


def test_a_plan_given_as_a_hint_names_all_its_steps() -> None:
    asked = problem()
    order = Order(Choice(asked, whole_scope(asked, 1)))
    plan = ordered()
    assert plan is not None
    hint = order.hint(plan)
    assert hint[order.start[Step("task", 0, 0)].index] == 10
    assert hint[order.choice.done[0, 0].index] == 1
