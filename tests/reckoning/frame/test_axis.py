"""Bent centrelines against the textbook arc length, and back from a bending list."""

from __future__ import annotations

from math import pi, sqrt

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fabshop.reckoning.frame.axis import (
    NoAxis,
    Straight,
    axis_through,
    bent,
    centre_of_arc,
    drawn,
)
from fabshop.reckoning.frame.vector import minus, size, turn_deg, turned


def test_a_quarter_bend_develops_to_its_arc_on_the_centreline() -> None:
    # Arc length R × angle in radians, elementary geometry: 40 × π / 2.
    axis = axis_through([(0, 0, 0), (100, 0, 0), (100, 100, 0)], [40])
    assert [piece.length_mm for piece in axis.pieces] == pytest.approx(
        [60, 40 * pi / 2, 60]
    )
    assert axis.developed_mm == pytest.approx(120 + 20 * pi)
    assert axis.arcs[0].angle_deg == pytest.approx(90)
    assert axis.arcs[0].centre == pytest.approx((60, 40, 0))


@given(
    st.lists(
        st.tuples(st.floats(10, 60), st.floats(5, 150), st.floats(-179, 179)),
        min_size=1,
        max_size=4,
    ),
    st.data(),
)
def test_a_bending_list_comes_back_out_of_its_points(
    bends: list[tuple[float, float, float]], data: st.DataObject
) -> None:
    straights = [data.draw(st.floats(5, 80)) for _ in range(len(bends) + 1)]
    listed = bent(straights, bends)
    # Where the straights would meet: each arc's tangents from both its ends.
    points = [listed.first.start]
    for arc in listed.arcs:
        half = np.radians(arc.angle_deg) / 2
        tangent = arc.radius_mm * np.tan(half)
        points.append(tuple(np.array(arc.start) + np.array(arc.along) * tangent))
    points.append(listed.last.end)
    found = axis_through(points, [bend[0] for bend in bends])
    assert found.developed_mm == pytest.approx(listed.developed_mm)
    textbook = sum(straights) + sum(pi * r * a / 180 for r, a, _ in bends)
    assert found.developed_mm == pytest.approx(textbook)
    for was, now in zip(listed.arcs[1:], found.arcs[1:], strict=True):
        assert np.cos(np.radians(was.plane_deg - now.plane_deg)) == pytest.approx(1)
    assert found.last.end == pytest.approx(listed.last.end, abs=1e-6)


def test_a_scribed_line_is_carried_round_a_flat_bend_unchanged() -> None:
    # Square to the plane of the bend a line stays square to it; in the plane it turns.
    axis = axis_through([(0, 0, 0), (100, 0, 0), (100, 100, 0)], [40])
    assert axis.carried((0, 0, 1)) == pytest.approx((0, 0, 1))
    assert axis.carried((0, 1, 0)) == pytest.approx((-1, 0, 0))
    assert axis.carried_back(axis.carried((0, 0.6, 0.8))) == pytest.approx(
        (0, 0.6, 0.8)
    )


def test_bends_that_need_more_than_there_is_are_told() -> None:
    with pytest.raises(NoAxis, match=r"straight 1 is 30.0 mm and its bends take 40.0"):
        axis_through([(0, 0, 0), (30, 0, 0), (30, 90, 0)], [40])
    with pytest.raises(NoAxis, match="one and the same"):
        axis_through([(0, 0, 0), (0, 0, 0)], [])
    with pytest.raises(NoAxis, match="back on itself"):
        axis_through([(0, 0, 0), (30, 0, 0), (0, 0, 0)], [1])


def test_a_bend_in_one_line_is_no_bend() -> None:
    axis = axis_through([(0, 0, 0), (50, 0, 0), (90, 0, 0)], [20])
    assert axis.arcs == ()
    assert axis.developed_mm == pytest.approx(90)


def test_the_middle_of_a_bent_piece_is_where_its_metal_is() -> None:
    # Summed over a fine grid of the ring section, carried round half a turn.
    axis = axis_through([(0, 0, 0), (50, 0, 0), (50, 50, 0)], [20])
    (arc,) = axis.arcs
    outer, inner = 4.0, 3.1
    rho = np.linspace(inner, outer, 401)[:-1] + (outer - inner) / 800
    phi = np.linspace(0, 2 * pi, 361)[:-1]
    turn = np.linspace(0, 90, 361)[:-1] + 0.125
    r, p = np.meshgrid(rho, phi)
    far = arc.radius_mm + r * np.cos(p)
    weight = (r * far).sum()
    mean = (r * far * far).sum() / weight
    out = [turned(minus(arc.start, arc.centre), arc.normal, t) for t in turn]
    centre = np.array(arc.centre) + np.mean(out, axis=0) / arc.radius_mm * mean
    assert centre_of_arc(arc, outer, inner) == pytest.approx(tuple(centre), abs=1e-3)


def test_it_is_drawn_from_end_to_end() -> None:
    axis = axis_through([(0, 0, 0), (100, 0, 0), (100, 100, 0)], [40])
    points = drawn(axis)
    assert points[0] == (0, 0, 0)
    assert points[-1] == pytest.approx((100, 100, 0))
    on_arc = [p for p in points if p[0] > 60 + 1e-9 and p[1] < 40 - 1e-9]
    for point in on_arc:
        assert size(minus(point, axis.arcs[0].centre)) == pytest.approx(40)
    assert size((100 / sqrt(2), 100 / sqrt(2), 0)) == pytest.approx(100)


def test_the_plane_of_the_second_bend_is_counted_about_the_tube() -> None:
    axis = bent([20, 30, 20], [(10, 90, 0), (10, 90, 90)])
    first, second = axis.arcs
    middle = axis.straights[1]
    assert isinstance(middle, Straight)
    assert turn_deg(first.normal, second.normal, middle.along) == pytest.approx(90)
