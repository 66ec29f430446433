"""Too little stock."""

from __future__ import annotations

from fabshop.reckoning.cutting.best import Budget, rank
from fabshop.reckoning.cutting.first_fit import by_rule
from fabshop.reckoning.cutting.scarce import most_pieces, scarce_plan
from tests.reckoning.cutting.asked import compiled

PROBLEM = compiled(
    {
        "stock": [{"id": "a", "length": 10}, {"id": "b", "length": 7}],
        "pieces": [{"id": "p", "length": 6, "count": 2}, {"id": "q", "length": 4}]
        + [{"id": "r", "length": 3, "count": 2}],
    }
)


def test_most_pieces_are_cut_and_that_is_proven() -> None:
    best = scarce_plan(PROBLEM, by_rule(PROBLEM, Budget(9)), Budget(9))
    assert rank(PROBLEM, best.plan)[0] == 4
    assert best.bounds == rank(PROBLEM, best.plan)


def test_without_time_the_bound_is_still_true() -> None:
    best = scarce_plan(PROBLEM, by_rule(PROBLEM, Budget(9)), Budget(0))
    assert best.bounds[0] == most_pieces(PROBLEM) == 4
