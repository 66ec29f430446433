"""Only what can matter is modelled."""

from __future__ import annotations

from fabshop.reckoning.teardown.choice import Step
from fabshop.reckoning.teardown.scope import (
    places_off_at_first,
    scope_of_plan,
    whole_scope,
)
from tests.reckoning.teardown.asked import DECK, LID, LOOM, problem

LAMP = {"id": "lamp", "off": 1, "on": 1}


def test_a_component_that_no_task_needs_off_is_left_away() -> None:
    scope = whole_scope(problem(components=[LAMP, LID, DECK]), 2)
    assert scope.places == (frozenset({1, 2}),) * 2


def test_a_place_that_is_only_reached_may_stay_on() -> None:
    reach = {"id": "loom", "minutes": 5, "reach": ["deck"]}
    assert whole_scope(problem(tasks=[reach]), 1).places == (frozenset({0}),)


def test_a_task_that_its_own_times_forbid_is_in_no_session() -> None:
    scope = whole_scope(problem(tasks=[{**LOOM, "minutes": 999}]), 2)
    assert (scope.tasks, scope.places) == ({0: ()}, (frozenset(),) * 2)


def test_the_scope_of_a_plan_is_what_it_does_and_what_lies_off() -> None:
    asked = problem(components=[{**LAMP, "state": "off"}, LID, DECK])
    plan = ((Step("remove", 1, 0), Step("task", 0, 0), Step("refit", 1, 0)),)
    scope = scope_of_plan(asked, plan)
    assert scope.tasks == {0: (0,)}
    assert scope.places == (frozenset({0, 1}),)
    assert places_off_at_first(asked) == {0}
