"""The longest that one of given bars can be left."""

from __future__ import annotations

from fabshop.reckoning.cutting.best import Budget, longest_drop_um
from fabshop.reckoning.cutting.drop import Drop
from fabshop.reckoning.cutting.pattern import Patterns
from fabshop.reckoning.cutting.problem import Bar
from tests.reckoning.cutting.asked import compiled, one_length

PROBLEM = compiled(one_length(10, {6: 2, 4: 2, 3: 1}))
START = (Bar(0, (1, 0, 1)), Bar(0, (1, 1, 0)), Bar(0, (0, 1, 0)))


def test_the_drop_is_bettered_and_proven() -> None:
    drop = Drop(PROBLEM, Patterns(PROBLEM), (3,), 0, Budget(9))
    plan, at_most = drop.longest(START, longest_drop_um(PROBLEM, START))
    assert longest_drop_um(PROBLEM, plan) == 7000
    assert at_most == 0, "nothing beyond the plan's own"


def test_without_time_the_start_stays_with_a_bound() -> None:
    drop = Drop(PROBLEM, Patterns(PROBLEM), (3,), 0, Budget(0))
    assert drop.longest(START, 6000) == (START, 7000)
