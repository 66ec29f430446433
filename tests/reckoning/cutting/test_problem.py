"""Whole numbers: what is alike together, rounding to the safe side."""

from __future__ import annotations

from fabshop.reckoning.cutting.problem import Bar, at_least_um, at_most_um
from tests.reckoning.cutting.asked import compiled, one_length


def test_floating_point_noise_means_nothing_and_a_broken_micrometre_is_safe() -> None:
    assert (at_least_um(0.1 + 0.2), at_most_um(0.1 + 0.2)) == (300, 300)
    assert (at_least_um(1.0005), at_most_um(1.0005)) == (1001, 1000)


def test_equal_lengths_are_one_sort_and_equal_stock_one_kind() -> None:
    asked = {
        "kerf": 1,
        "stock": [{"id": "a", "length": 10}, {"id": "b", "length": 10.0, "count": 2}],
        "pieces": [{"id": "x", "length": 3}, {"id": "y", "length": 3}],
    }
    problem = compiled(asked)
    assert [(sort.weight, sort.count) for sort in problem.sorts] == [(1, 2)]
    assert problem.unit_um == 4000
    # 10 + 1 holds two of 3 + 1, and no more bars are counted than pieces.
    assert [(kind.cap, kind.count) for kind in problem.kinds] == [(2, 2)]


def test_the_last_kerf_may_end_the_bar() -> None:
    problem = compiled(one_length(9, {4: 2}, kerf=1))
    assert problem.left_um(0, Bar(0, (2,)).load(problem)) == 0
    assert problem.left_um(0, Bar(0, (1,)).load(problem)) == 4000


def test_what_no_stock_can_give_is_set_aside() -> None:
    problem = compiled(one_length(10, {11: 1, 4: 1}))
    assert [sort.length_um for sort in problem.too_long] == [11_000]
    assert problem.wanted == 1
