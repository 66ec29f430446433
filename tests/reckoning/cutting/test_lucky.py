"""Bars filled by chance."""

from __future__ import annotations

from fabshop.reckoning.cutting.best import Budget
from fabshop.reckoning.cutting.lucky import lucky
from tests.reckoning.cutting.asked import compiled, one_length

PROBLEM = compiled(one_length(10, {6: 2, 4: 2, 3: 1}))


def test_a_plan_found_by_chance_is_found_again() -> None:
    plan = lucky(PROBLEM, (3,), Budget(9), tries=20)
    assert plan is not None
    assert plan == lucky(PROBLEM, (3,), Budget(9), tries=20)
    assert all(bar.load(PROBLEM) <= 10 for bar in plan)


def test_one_bar_can_be_kept_light() -> None:
    plan = lucky(PROBLEM, (3,), Budget(9), tries=20, light=0, room=3)
    assert plan is not None
    assert min(bar.load(PROBLEM) for bar in plan) == 3
    assert lucky(PROBLEM, (3,), Budget(9), tries=20, light=0, room=2) is None
