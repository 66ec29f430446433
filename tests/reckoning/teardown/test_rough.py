"""What the loose model says is true of every plan."""

from __future__ import annotations

import pytest

from fabshop.reckoning import solver
from fabshop.reckoning.questions import parse
from fabshop.reckoning.teardown.choice import Choice
from fabshop.reckoning.teardown.order import Order
from fabshop.reckoning.teardown.problem import problem_of
from fabshop.reckoning.teardown.rough import Rough, covers_of
from fabshop.reckoning.teardown.scope import whole_scope
from tests.reckoning.small_cases import small_case
from tests.reckoning.teardown.asked import DECK, LID, LOOM, problem


@pytest.mark.parametrize("seed", range(6000, 6060))
def test_every_plan_of_the_full_model_is_one_of_the_loose_one(seed: int) -> None:
    asked = problem_of(parse("teardown", small_case(seed)))
    scope = whole_scope(asked, asked.max_sessions)
    full, loose = Order(Choice(asked, scope)), Rough(Choice(asked, scope))
    full.model.maximize(sum(full.choice.taken.values()))
    outcome = solver.run(full.model, limit_s=20)
    assert outcome.is_solved
    for mine, theirs in (
        (loose.choice.done, full.choice.done),
        (loose.choice.removed, full.choice.removed),
        (loose.choice.refitted, full.choice.refitted),
    ):
        for key, literal in mine.items():
            loose.model.add(literal == int(outcome.holds(theirs[key])))
    assert solver.run(loose.model, limit_s=20).is_solved


def test_what_lies_over_by_every_route_must_come_off() -> None:
    pan = {"id": "pan", "off": 1, "on": 1, "routes": [["deck"], ["lid"]]}
    covers = covers_of(problem(components=[LID, DECK, pan]))
    assert covers == [frozenset(), {0}, {0}]


def test_the_loose_model_has_no_room_for_more_than_the_hours() -> None:
    long = {**LOOM, "minutes": 336}
    rough = Rough(Choice(asked := problem(tasks=[long]), whole_scope(asked, 1)))
    rough.model.add(rough.choice.taken[0] == 1)
    assert solver.run(rough.model, limit_s=10).ended is solver.Ended.IMPOSSIBLE
