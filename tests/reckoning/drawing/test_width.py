"""The narrowest width of outlines whose width is known."""

from __future__ import annotations

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fabshop.reckoning.drawing.width import box, extent, hull, narrowest
from tests.reckoning.drawing.drawn import placed


def test_a_box_holds_every_point() -> None:
    assert box([(1, 5), (-2, 3)]) == (-2, 3, 1, 5)


def test_an_arc_reaches_out_of_its_ends_exactly() -> None:
    # Half a round below the chord from (0, 0) to (10, 0).
    assert extent([((0, 0, 1.0), (10, 0, 0.0))]) == pytest.approx((0, -5, 10, 0))
    assert extent([]) == (0, 0, 0, 0)


def test_a_hull_leaves_out_what_lies_inside() -> None:
    assert hull([(0, 0), (4, 0), (2, 1), (4, 4), (0, 4)]) == [
        (0, 0), (4, 0), (4, 4), (0, 4),
    ]  # fmt: skip


@given(st.floats(0, 6.2), st.floats(1, 50))
def test_a_slot_is_as_wide_as_its_shorter_side_however_it_lies(
    turn: float, short: float
) -> None:
    corners = placed([(0, 0), (60, 0), (60, short), (0, short)], turn, (5, 7))
    assert narrowest(corners) == pytest.approx(short)


def test_a_triangle_is_as_wide_as_its_least_height() -> None:
    assert narrowest([(0, 0), (10, 0), (5, 5 * sqrt(3))]) == pytest.approx(5 * sqrt(3))


def test_a_line_has_no_width() -> None:
    assert narrowest([(0, 0), (5, 5)]) == 0
