"""From a choice to an order, or to what cannot go together."""

from __future__ import annotations

from fabshop.reckoning import solver
from fabshop.reckoning.teardown.best import Budget
from fabshop.reckoning.teardown.choice import Choice
from fabshop.reckoning.teardown.ordering import (
    cannot_go_together,
    narrowed,
    order_all,
    order_most,
    picks_of,
)
from fabshop.reckoning.teardown.scope import whole_scope
from tests.reckoning.teardown.asked import LOOM, problem

LONG = {"id": "long", "minutes": 340, "points": 1, "required": False}
BUDGET = Budget(600)


def test_a_choice_is_narrowed_to_its_tasks_and_put_in_order() -> None:
    asked = problem(tasks=[LOOM, LONG])
    choice = Choice(asked, whole_scope(asked, 1))
    choice.model.add(choice.taken[0] == 1)
    choice.model.add(choice.taken[1] == 0)
    outcome = solver.run(choice.model, limit_s=10)
    scope = narrowed(choice, outcome)
    assert picks_of(choice, outcome) == [(0, 0)]
    assert (scope.tasks, scope.places) == ({0: (0,)}, (frozenset({0, 1}),))
    assert order_all(asked, scope, BUDGET) is not None


def test_what_does_not_fit_whole_is_ordered_in_its_best_part() -> None:
    asked = problem(tasks=[LOOM, LONG])
    scope = whole_scope(asked, 1)
    assert order_all(asked, scope, BUDGET) is None
    (steps,) = order_most(asked, scope, BUDGET)
    assert [step.index for step in steps if step.do == "task"] == [0]


def test_two_tasks_too_long_for_the_hours_are_named_and_a_third_is_not() -> None:
    tasks = [LOOM, LONG, {"id": "short", "minutes": 1}]
    asked = problem(tasks=tasks)
    scope = whole_scope(asked, 1)
    picks = [(0, 0), (1, 0), (2, 0)]
    core = cannot_go_together(asked, scope, picks, BUDGET)
    assert sorted(core) == [(0, 0), (1, 0)]
    assert cannot_go_together(asked, scope, picks[2:], BUDGET) == []
