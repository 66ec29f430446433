"""The most worth in a bar, against every way to fill it."""

from __future__ import annotations

from itertools import product

from fabshop.reckoning.cutting.knapsack import MOST_CELLS, Knapsack, grid_of
from tests.reckoning.cutting.asked import compiled, one_length

WEIGHTS, COUNTS, WORTH = (5, 4, 3), (2, 3, 2), (9, 7, 4)


def ways(cap: int) -> list[tuple[int, ...]]:
    return [
        way
        for way in product(*(range(count + 1) for count in COUNTS))
        if sum(w * n for w, n in zip(WEIGHTS, way, strict=True)) <= cap
    ]


def worth(way: tuple[int, ...]) -> int:
    return sum(v * n for v, n in zip(WORTH, way, strict=True))


def test_it_is_the_most_and_the_pattern_reaches_it() -> None:
    knapsack = Knapsack(WEIGHTS, COUNTS, WORTH, 30)
    for cap in range(31):
        assert knapsack.most(cap) == max(map(worth, ways(cap)))
        pattern = knapsack.pattern(cap)
        assert pattern in ways(cap)
        assert worth(pattern) == knapsack.most(cap)


def test_all_patterns_of_some_worth_are_listed_or_none() -> None:
    knapsack = Knapsack(WEIGHTS, COUNTS, WORTH, 20)
    good = [way for way in ways(13) if worth(way) >= 18]
    assert sorted(knapsack.patterns(13, 18, 100) or []) == sorted(good)
    assert knapsack.patterns(13, 18, len(good) - 1) is None


def test_too_fine_lengths_are_told_apart_coarsely_and_safely() -> None:
    grid = grid_of(compiled(one_length(6000.001, {1234.567: 3, 2000.003: 2})))
    assert not grid.is_exact
    assert max(grid.caps) <= MOST_CELLS
    assert all(a <= b for a, b in zip(grid.light, grid.heavy, strict=True))
