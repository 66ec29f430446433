"""Ranks counted from bars, and calls that overrun."""

from __future__ import annotations

import time

import pytest

from fabshop.reckoning.cutting.best import Budget, bounded, longest_drop_um, rank
from fabshop.reckoning.cutting.problem import Bar
from tests.reckoning.cutting.asked import compiled, one_length


def test_a_plan_is_counted_bar_by_bar() -> None:
    problem = compiled(one_length(10, {4: 3}, kerf=1))
    plan = (Bar(0, (2,)), Bar(0, (1,)))
    assert longest_drop_um(problem, plan) == 5000
    assert rank(problem, plan) == (3, 0, -20_000, 5000)
    assert rank(problem, ()) == (0, 0, 0, 0)


def test_a_call_that_overruns_is_left_to_itself() -> None:
    began = time.monotonic()
    assert bounded(lambda: time.sleep(3), 0.05) is None
    assert time.monotonic() - began < 2
    assert bounded(lambda: 7, 5) == 7


def test_a_fault_in_the_call_is_not_lost() -> None:
    with pytest.raises(ZeroDivisionError):
        bounded(lambda: 1 // 0, 5)


def test_time_left_is_never_less_than_none() -> None:
    assert Budget(-1).left_s == 0
