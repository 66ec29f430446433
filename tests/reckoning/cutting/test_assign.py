"""Pieces assigned to bars by CP-SAT."""

from __future__ import annotations

from fabshop.reckoning.cutting.assign import Assignment, assigned
from fabshop.reckoning.cutting.best import Budget
from fabshop.reckoning.solver import Ended
from tests.reckoning.cutting.asked import compiled, one_length

PROBLEM = compiled(one_length(10, {6: 1, 5: 1, 4: 1, 3: 1}))


def test_given_bars_carry_every_piece_or_cannot() -> None:
    assert assigned(PROBLEM, (1,), (), Budget(9)).ended is Ended.IMPOSSIBLE
    filled = assigned(PROBLEM, (2,), (), Budget(9))
    assert sum(bar.load(PROBLEM) for bar in filled.plan) == 18
    assert max(bar.load(PROBLEM) for bar in filled.plan) <= 10


def test_the_lightest_bar_is_as_light_as_can_be() -> None:
    filled = assigned(PROBLEM, (3,), (), Budget(9), 0, 9)
    assert filled.ended is Ended.PROVEN
    assert min(bar.load(PROBLEM) for bar in filled.plan) == 3


def test_the_longest_drop_is_of_an_opened_bar() -> None:
    model = Assignment(PROBLEM, [0, 0, 0])
    model.every_piece_is_cut()
    model.model.add(model.length() == 20_000)
    model.model.maximize(model.longest_drop())
    found = model.solve((), limit_s=9, effort=9)
    assert found.is_proven
    assert found.best == 2000
    assert len(model.plan(found)) == 2
