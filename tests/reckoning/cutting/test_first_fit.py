"""The start by rule, and that no answer is worse."""

from __future__ import annotations

import pytest

from fabshop.console.bench.cutting import shop_question
from fabshop.reckoning.ask import reckon
from fabshop.reckoning.cutting.best import Budget, rank
from fabshop.reckoning.cutting.first_fit import by_rule, filled, first_fit
from tests.reckoning.cutting.asked import compiled, one_length
from tests.reckoning.cutting.replay import replay


def test_longest_first_into_the_first_that_takes_it() -> None:
    problem = compiled(one_length(10, {6: 1, 5: 1, 4: 1, 3: 1}))
    plan = first_fit(problem, lambda kind: (kind,))
    assert [bar.counts for bar in plan] == [(1, 0, 1, 0), (0, 1, 0, 1)]
    assert filled(problem, 9, [1, 1, 1, 1]) == (1, 0, 0, 1)


@pytest.mark.parametrize("seed", range(6))
def test_no_answer_is_worse_even_when_there_is_no_time(seed: int) -> None:
    asked = {**shop_question(seed), "time_limit_s": 0.1}
    problem = compiled(asked)
    start = rank(problem, by_rule(problem, Budget(9)))
    cut, cost, length, drop = replay(asked, reckon("cutlist", asked))
    assert (cut, cost, length * 1000, drop * 1000) >= start
