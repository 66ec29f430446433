"""The aims in their order, each one before the next."""

from __future__ import annotations

from typing import Any

from fabshop.reckoning.teardown.best import Best, Budget, totals_of
from fabshop.reckoning.teardown.plan import best_plan
from tests.reckoning.teardown.asked import DECK, LID, MONDAY, problem

ONE = {"windows": [MONDAY], "deadline": MONDAY[1]}


def best(sessions: int = 1, limit_s: float = 60, **changes: Any) -> Best:
    return best_plan(problem(**changes), sessions, Budget(limit_s), ())


def done(found: Best) -> list[int]:
    return sorted(s.index for steps in found.plan for s in steps if s.do == "task")


def test_one_required_task_counts_for_more_than_any_points() -> None:
    dear = {"id": "dear", "minutes": 170, "required": False, "points": 99}
    must = {"id": "must", "minutes": 20}
    assert done(best(components=[], tasks=[dear, must], **ONE)) == [1]


def test_points_count_for_more_than_the_number_of_others() -> None:
    small = {"minutes": 60, "required": False, "points": 1}
    tasks = [{**small, "id": f"s{n}"} for n in range(3)]
    tasks.append({"id": "big", "minutes": 170, "required": False, "points": 4})
    assert done(best(components=[], tasks=tasks, **ONE)) == [3]


def test_a_task_that_costs_points_is_left_unless_it_is_required() -> None:
    costs = {"id": "costs", "minutes": 5, "points": -1, "required": False}
    assert done(best(components=[], tasks=[costs])) == []
    assert done(best(components=[], tasks=[{**costs, "required": True}])) == [0]


def test_two_sessions_let_an_early_task_wait_for_no_late_part() -> None:
    late = {"id": "late", "minutes": 10, "ready": "2031-05-06T18:00"}
    long = {"id": "long", "minutes": 171}
    changes = {"components": [], "tasks": [long, late]}
    assert len(done(best(1, **changes))) == 1
    assert len(done(best(2, **changes))) == 2


def test_the_cheaper_route_is_taken() -> None:
    heavy = {"id": "heavy", "off": 50, "on": 50}
    deck = {**DECK, "routes": [["heavy"], ["lid"]]}
    asked = {"components": [heavy, LID, deck]}
    found = best(**asked)
    assert totals_of(problem(**asked), found.plan).handling == 25


def test_without_time_there_is_an_honest_gap_and_no_error() -> None:
    tasks = [{"id": f"t{n}", "minutes": 50, "remove": ["deck"]} for n in range(9)]
    found = best(limit_s=0.0, tasks=tasks)
    assert found.gap is not None
    assert found.gap.name == "required"
    assert found.gap.reached <= found.gap.bound <= 9
