"""Baskets, cheapest first, then shortest."""

from __future__ import annotations

from typing import Any

from fabshop.reckoning.cutting.best import Budget
from fabshop.reckoning.cutting.pattern import Worth
from fabshop.reckoning.cutting.shopping import Basket, OutOfTime, Shopping
from tests.reckoning.cutting.asked import compiled


def shopping(cost: float = 1) -> Shopping:
    stock: list[dict[str, Any]] = [
        {"id": "short", "length": 40, "count": 2, "cost": cost},
        {"id": "long", "length": 100, "count": 1},
    ]
    pieces = [{"id": "p", "length": 10, "count": 9}]
    return Shopping(compiled({"stock": stock, "pieces": pieces}))


def test_cost_comes_before_length() -> None:
    found = shopping()
    found.carries(Worth((4, 10), 8))
    assert found.best(Budget(9)) == Basket((0, 1), 0, 100_000)
    found.is_not_within((0, 1))
    assert found.best(Budget(9)) == Basket((1, 1), 1, 140_000)


def test_length_decides_where_cost_does_not() -> None:
    found = shopping(cost=0)
    found.carries(Worth((4, 10), 8))
    assert found.best(Budget(9)) == Basket((2, 0), 0, 80_000)
    found.is_no_dearer(0, 79_000)
    assert found.best(Budget(9)) is None


def test_without_time_nothing_is_ruled_out() -> None:
    assert isinstance(shopping().best(Budget(0)), OutOfTime)
