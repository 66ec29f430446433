"""Lengths and areas of stretches, against what they are exactly."""

from __future__ import annotations

from math import hypot, pi, tan, tau

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.special import ellipe

from fabshop.reckoning.drawing.edge import (
    arc,
    bulge_arc,
    ellipse,
    flat,
    line,
    polyline,
)


def test_a_line_is_as_long_as_its_ends_are_apart() -> None:
    assert line((1, 2), (4, 6)).length == 5


def test_a_circle_anywhere_has_its_own_area_and_round() -> None:
    edge = arc((310.5, -20), 12.5, 0.7, tau)
    assert edge.length == pytest.approx(25 * pi, rel=1e-12)
    assert edge.area == pytest.approx(pi * 12.5**2, rel=1e-9)
    assert edge.start == edge.end


def test_a_bulge_of_one_is_half_a_round() -> None:
    # DXF reference, LWPOLYLINE code 42: 0 is straight, 1 a semicircle to the left.
    half = polyline([(0, 0, 1.0), (10, 0, 0.0)])
    assert half.length == pytest.approx(5 * pi)
    centre, radius, _, sweep = bulge_arc((0, 0, 1.0), (10, 0, 0.0))
    assert centre == pytest.approx((5, 0))
    assert (radius, sweep) == (pytest.approx(5), pytest.approx(pi))
    assert min(p[1] for p in flat(half.vertices)) == pytest.approx(-5, abs=0.01)


def test_an_ellipse_is_measured_like_the_elliptic_integral() -> None:
    edge = ellipse((3, 4), (10, 0), 0.5, 0, tau)
    assert edge.area == pytest.approx(pi * 50, rel=1e-12)
    # The parameter m of scipy is the square of the eccentricity.
    assert edge.length == pytest.approx(40 * ellipe(0.75), rel=1e-10)


def test_reversed_it_encloses_the_other_way_round() -> None:
    edge = polyline([(0, 0, 0.3), (10, 0, -0.2), (10, 10, 0.0)])
    back = edge.reversed()
    assert (back.start, back.end) == (edge.end, edge.start)
    assert polyline(list(back.vertices)).area == pytest.approx(-edge.area)
    assert back.length == edge.length


@given(
    st.floats(-300, 300), st.floats(-300, 300), st.floats(0.1, 200), st.floats(0.01, 3)
)
def test_chords_leave_an_arc_by_no_more_than_said(
    x: float, y: float, radius: float, sweep: float
) -> None:
    edge = arc((x, y), radius, 0.3, sweep)
    points = flat(edge.vertices, sagitta=0.02)
    for a, b in zip(points, points[1:], strict=False):
        middle = ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)
        assert radius - hypot(middle[0] - x, middle[1] - y) < 0.021
    assert edge.length == pytest.approx(radius * sweep)
    assert edge.vertices[0][2] == pytest.approx(
        tan(sweep / 4 / (len(edge.vertices) - 1))
    )
