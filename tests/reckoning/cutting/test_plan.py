"""The whole search: proven twice the same, and never a false proof."""

from __future__ import annotations

import pytest

from fabshop.console.bench.cutting import shop_question
from fabshop.reckoning.ask import reckon
from fabshop.reckoning.cutting.best import Budget, rank
from fabshop.reckoning.cutting.plan import best_plan
from tests.reckoning.cutting.asked import compiled, one_length


@pytest.mark.parametrize("seed", [16, 17, 20, 23])
def test_a_proven_question_has_the_same_answer_each_time(seed: int) -> None:
    asked = {**shop_question(seed), "time_limit_s": 20}
    answer = reckon("cutlist", asked)
    assert answer["status"] == "optimal"
    assert reckon("cutlist", asked) == answer


def test_every_bound_is_at_least_what_is_reached() -> None:
    for seed in range(4):
        problem = compiled(shop_question(seed))
        best = best_plan(problem, Budget(0.3))
        assert best.bounds >= rank(problem, best.plan)


def test_the_longest_drop_is_sought_among_equal_bars() -> None:
    problem = compiled(one_length(10, {6: 2, 4: 2, 3: 1}))
    best = best_plan(problem, Budget(9))
    assert rank(problem, best.plan) == (5, 0, -30_000, 7000) == best.bounds
