"""Whole patterns out of a list."""

from __future__ import annotations

from fabshop.reckoning.cutting.best import Budget
from fabshop.reckoning.cutting.whole import fill
from fabshop.reckoning.solver import Ended
from tests.reckoning.cutting.asked import compiled, one_length

PROBLEM = compiled(one_length(10, {5: 3, 3: 2}))
TWO, MIXED, ONE, NONE = (2, 0), (1, 1), (1, 0), (0, 1)


def test_every_piece_is_cut_and_none_too_often() -> None:
    filled = fill(PROBLEM, (3,), [(0, TWO), (0, (0, 3))], Budget(9), nodes=50)
    assert [bar.counts for bar in filled.plan] == [(2, 0), (1, 0), (0, 2)]


def test_a_list_that_does_not_do_is_impossible() -> None:
    filled = fill(PROBLEM, (2,), [(0, TWO), (0, MIXED)], Budget(9), nodes=50)
    assert filled.ended is Ended.IMPOSSIBLE


def test_one_bar_carries_as_little_as_can_be() -> None:
    columns = [(0, TWO), (0, MIXED), (0, ONE), (0, NONE)]
    filled = fill(PROBLEM, (3,), columns, Budget(9), nodes=50, light=0, at_most=6)
    assert filled.ended is Ended.PROVEN
    assert min(bar.load(PROBLEM) for bar in filled.plan) == 3


def test_without_patterns_nothing_can_be_cut() -> None:
    filled = fill(PROBLEM, (3,), [], Budget(9), nodes=50)
    assert filled.ended is Ended.IMPOSSIBLE
