"""One end on its main: sides, signs, and how far the saddle lies along the main."""

from __future__ import annotations

from math import cos, radians, sin

import numpy as np
import pytest

from fabshop.reckoning.frame.axis import Axis, Straight, axis_through
from fabshop.reckoning.frame.landing import coped, landing, off_axis_mm, straight_at
from tests.reckoning.meshed import tube_cut_by

MAIN = Straight((-100, 0, 0), (1, 0, 0), 200)


def test_nought_lies_where_the_tubes_close_in() -> None:
    leaning = landing((0, 0, 0), (cos(radians(60)), 0, sin(radians(60))), MAIN, 0)
    assert leaning is not None
    assert leaning.angle_deg == pytest.approx(60)
    assert leaning.dial_deg == pytest.approx(30)
    # It leans towards +x, so its acute side faces +x and down.
    assert leaning.acute[0] > 0 > leaning.acute[2]
    # Looking down the tube from its far end, 90 is counterclockwise of it: towards
    # +y, for x to the right of an eye above, y is up the page.
    assert leaning.towards_90 == pytest.approx((0, 1, 0))


def test_an_offset_moves_the_tube_towards_its_own_90() -> None:
    moved = landing((0, 0, 0), (0.6, 0, 0.8), MAIN, 1.5)
    assert moved is not None
    assert moved.crossing == pytest.approx((0, 1.5, 0))


def test_square_counts_from_where_the_main_runs_to() -> None:
    square = landing((0, 0, 0), (1e-9, 0, 1), MAIN, 0)
    other = landing((0, 0, 0), (-1e-9, 0, 1), MAIN, 0)
    assert square is not None
    assert other is not None
    assert square.is_square
    assert square.acute == pytest.approx((1, 0, 0), abs=1e-6)
    assert other.acute == pytest.approx((1, 0, 0), abs=1e-6)
    turned = square.turned_over()
    assert turned.acute == pytest.approx((-1, 0, 0), abs=1e-6)


def test_side_by_side_is_no_landing() -> None:
    assert landing((0, 0, 0), (1, 0, 0), MAIN, 0) is None


def test_a_small_angle_keeps_its_digits() -> None:
    flat = landing((0, 0, 0), (cos(0.02), 0, sin(0.02)), MAIN, 0)
    assert flat is not None
    assert radians(flat.angle_deg) == pytest.approx(0.02, rel=1e-9)


def test_the_saddle_reaches_along_the_main_as_its_mesh_does() -> None:
    along = (cos(radians(50)), 0.0, sin(radians(50)))
    made = landing((0, 0, 0), along, MAIN, 1.0)
    assert made is not None
    saddle = coped(made, 8, 1, 12)
    far = tuple(np.array(made.crossing) + 60 * np.array(along))
    mesh = tube_cut_by((made.crossing, far, 8, 1), [((-100, 0, 0), (100, 0, 0), 12)])
    ends = mesh.vertices[np.hypot(mesh.vertices[:, 1], mesh.vertices[:, 2]) < 6.01]
    assert saddle.after_mm == pytest.approx(ends[:, 0].max(), abs=0.02)
    assert saddle.before_mm == pytest.approx(-ends[:, 0].min(), abs=0.02)
    assert saddle.depth_mm == pytest.approx(saddle.longest_mm - saddle.shortest_mm)


def test_a_bent_main_is_landed_on_at_its_straights_alone() -> None:
    hoop = axis_through([(0, 0, 0), (100, 0, 0), (100, 100, 0)], [40])
    assert straight_at((30, 0, 0), hoop) == hoop.first
    assert straight_at((100, 70, 0), hoop) == hoop.last
    assert straight_at((88, 12, 0), hoop) is None
    assert off_axis_mm((30, 3, 4), hoop.first) == pytest.approx(5)
    assert straight_at((-5, 0, 0), Axis((MAIN,))) == MAIN
