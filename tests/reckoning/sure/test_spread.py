"""Spreads against scipy, and their draws against their own moments."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from fabshop.reckoning.sure.spread import (
    Triple,
    arrival_draws,
    beta_variance,
    pert_mean,
    pert_variance,
    triangle_mean,
    triangle_variance,
    work_draws,
)

TRIPLES = [
    Triple(1, 2, 9),
    Triple(0.8, 1.0, 1.9),
    Triple(5, 5, 8),
    Triple(5, 8, 8),
    Triple(-3, 0, 3),
]


def scipy_triangle(triple: Triple) -> stats.rv_continuous:
    width = triple.late - triple.early
    peak = (triple.likely - triple.early) / width
    return stats.triang(peak, loc=triple.early, scale=width)


def scipy_beta(triple: Triple) -> stats.rv_continuous:
    width = triple.late - triple.early
    peak = (triple.likely - triple.early) / width
    return stats.beta(1 + 4 * peak, 5 - 4 * peak, loc=triple.early, scale=width)


@pytest.mark.parametrize("triple", TRIPLES)
def test_the_moments_are_those_of_scipy(triple: Triple) -> None:
    triangle, beta = scipy_triangle(triple), scipy_beta(triple)
    assert triangle_mean(triple) == pytest.approx(triangle.mean())
    assert triangle_variance(triple) == pytest.approx(triangle.var())
    assert pert_mean(triple) == pytest.approx(beta.mean())
    assert beta_variance(triple) == pytest.approx(beta.var())


@pytest.mark.parametrize("triple", TRIPLES)
def test_the_draws_come_from_these_spreads(triple: Triple) -> None:
    # Kolmogorov-Smirnov at one in ten thousand; the seed is fixed.
    drawn = arrival_draws(triple, 4_000, 7, "P02/1")
    assert stats.kstest(drawn, scipy_triangle(triple).cdf).pvalue > 1e-4
    drawn = work_draws(triple, 4_000, 7, "wiring")
    assert stats.kstest(drawn, scipy_beta(triple).cdf).pvalue > 1e-4
    assert triple.early <= drawn.min() <= drawn.max() <= triple.late


def test_a_name_draws_the_same_again_and_another_name_does_not() -> None:
    triple = Triple(1, 2, 9)
    one = work_draws(triple, 50, 7, "wiring")
    assert np.array_equal(one, work_draws(triple, 50, 7, "wiring"))
    assert not np.array_equal(one, work_draws(triple, 50, 7, "welding"))
    assert not np.array_equal(one, work_draws(triple, 50, 8, "wiring"))


def test_what_is_not_in_doubt_does_not_vary() -> None:
    for draws in (arrival_draws, work_draws):
        assert set(draws(Triple(4, 4, 4), 20, 7, "x").tolist()) == {4.0}


@pytest.mark.parametrize(
    ("triple", "mean", "variance"),
    [
        # Taylor, Introduction to Management Science, ch. 8.
        (Triple(5, 8, 17), 9, 4),
        (Triple(7, 10, 13), 10, 1),
        (Triple(3, 5, 7), 5, 4 / 9),
        (Triple(3, 3, 3), 3, 0),
        (Triple(3, 4, 5), 4, 1 / 9),
    ],
)
def test_worked_examples(triple: Triple, mean: float, variance: float) -> None:
    assert pert_mean(triple) == pytest.approx(mean)
    assert pert_variance(triple) == pytest.approx(variance)
