"""Splines against curves that they can say exactly."""

from __future__ import annotations

from math import asinh, pi, sqrt

import pytest
from scipy.interpolate import BSpline

from fabshop.reckoning.drawing.spline import Spline

HALF = sqrt(0.5)
ROUND = [(1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1), (1, 0)]


def test_nine_weighted_points_make_an_exact_circle() -> None:
    # Piegl and Tiller, The NURBS Book, example 7.2: the nine-point square.
    knots = [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4]
    weights = [1, HALF, 1, HALF, 1, HALF, 1, HALF, 1]
    edge = Spline(2, knots, ROUND, weights).edge()
    assert edge.length == pytest.approx(2 * pi, rel=1e-12)
    assert edge.area == pytest.approx(pi, rel=1e-12)


def test_a_parabola_is_as_long_as_its_formula_says() -> None:
    # y = x² from 0 to 1: length (2 √5 + asinh 2) / 4, area under it 1/3.
    edge = Spline(2, [0, 0, 0, 1, 1, 1], [(0, 0), (0.5, 0), (1, 1)]).edge()
    assert edge.length == pytest.approx((2 * sqrt(5) + asinh(2)) / 4, rel=1e-10)
    # Half of the integral of x dy - y dx = half of (2/3 - 1/3).
    assert edge.area == pytest.approx(1 / 6, rel=1e-12)


def test_values_and_slopes_agree_with_scipy() -> None:
    points = [(0.0, 0.0), (3.0, 8.0), (9.0, -4.0), (12.0, 5.0), (20.0, 1.0)]
    knots = [0, 0, 0, 0, 0.4, 1, 1, 1, 1]
    ours, theirs = Spline(3, knots, points), BSpline(knots, points, 3)
    for t in (0.0, 0.2, 0.4, 0.7, 0.99):
        assert ours.at(t) == pytest.approx(tuple(theirs(t)))
        assert ours.slope(t) == pytest.approx(tuple(theirs.derivative()(t)))


def test_a_spline_of_degree_one_is_a_polyline() -> None:
    edge = Spline(1, [0, 0, 1, 2, 2], [(0, 0), (3, 4), (3, 10)]).edge()
    assert edge.length == pytest.approx(11)


@pytest.mark.parametrize(
    ("knots", "weights"),
    [([0, 0, 1], ()), ([0, 0, 0, 1, 0.5, 1], ()), ([0, 0, 0, 1, 1, 1], (1, -1, 1))],
)
def test_what_does_not_go_together_is_refused(
    knots: list[float], weights: tuple[float, ...]
) -> None:
    with pytest.raises(ValueError, match="the "):
        Spline(2, knots, [(0, 0), (1, 0), (1, 1)], weights)
