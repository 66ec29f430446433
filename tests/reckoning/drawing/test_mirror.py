"""Same, mirrored, its own mirror image or different: up to position and turn."""

from __future__ import annotations

from math import cos, sin, tau

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fabshop import words
from fabshop.reckoning.drawing.mirror import mirror
from fabshop.reckoning.drawing.shape import Shape, shape_of
from tests.reckoning.drawing.drawn import circle, plate

DUCT = [(0.0, 0.0), (80.0, 0.0), (80.0, 30.0), (40.0, 50.0), (0.0, 50.0)]
HOLES = [(10.0, 10.0, 2.0), (70.0, 10.0, 2.0), (10.0, 40.0, 3.0)]
SQUARE = [(0.0, 0.0), (50.0, 0.0), (50.0, 50.0), (0.0, 50.0)]

turns = st.floats(-7, 7)
moves = st.floats(-500, 500)


@settings(max_examples=25, deadline=None)
@given(turns, moves, moves)
def test_turned_and_moved_it_is_the_same(turn: float, x: float, y: float) -> None:
    there = plate(DUCT, HOLES, turn=turn, at=(x, y))
    assert mirror(plate(DUCT, HOLES), there) is words.Mirror.SAME


@settings(max_examples=25, deadline=None)
@given(turns, moves, moves)
def test_flipped_turned_and_moved_it_is_mirrored(
    turn: float, x: float, y: float
) -> None:
    there = plate(DUCT, HOLES, turn=turn, at=(x, y), flip=-1)
    assert mirror(plate(DUCT, HOLES), there) is words.Mirror.MIRRORED


def test_a_tenth_of_a_millimetre_is_the_same_and_half_of_one_is_not() -> None:
    near = [(0.0, 0.0), (80.05, 0.0), (80.05, 30.0), (40.0, 50.0), (0.0, 50.0)]
    far = [(0.0, 0.0), (80.0, 0.0), (80.0, 30.6), (40.0, 50.0), (0.0, 50.0)]
    assert mirror(plate(DUCT, HOLES), plate(near, HOLES)) is words.Mirror.SAME
    assert mirror(plate(DUCT, HOLES), plate(far, HOLES)) is words.Mirror.DIFFERENT


def test_only_the_holes_make_a_square_left_or_right() -> None:
    holes = [(10.0, 10.0, 3.0), (25.0, 10.0, 2.0), (40.0, 18.0, 2.0)]
    here = plate(SQUARE, holes)
    assert mirror(here, plate(SQUARE, holes, turn=0.7)) is words.Mirror.SAME
    flipped = plate(SQUARE, holes, turn=0.7, flip=-1)
    assert mirror(here, flipped) is words.Mirror.MIRRORED


def test_one_hole_less_is_different() -> None:
    assert mirror(plate(DUCT, HOLES), plate(DUCT, HOLES[:2])) is words.Mirror.DIFFERENT


@pytest.mark.parametrize("holes", [[], [(25.0, 25.0, 5.0)], [(10.0, 10.0, 3.0)]])
def test_a_square_with_at_most_a_hole_on_its_diagonal_serves_on_either_side(
    holes: list[tuple[float, float, float]],
) -> None:
    turned = plate(SQUARE, holes, turn=1.0)
    assert mirror(plate(SQUARE, holes), turned) is words.Mirror.BOTH


def ring(holes: list[tuple[float, float]]) -> Shape:
    return shape_of(
        [
            circle(0, 0, 50),
            *(circle(40 * cos(t), 40 * sin(t), r) for t, r in holes),
        ]
    )


def test_a_round_plate_is_told_by_its_holes() -> None:
    here = ring([(0, 2), (1, 3), (3, 2)])
    assert mirror(here, ring([(0.5, 2), (1.5, 3), (3.5, 2)])) is words.Mirror.SAME
    assert mirror(here, ring([(0.5, 2), (-0.5, 3), (-2.5, 2)])) is words.Mirror.MIRRORED
    assert mirror(ring([]), ring([])) is words.Mirror.BOTH


def test_a_line_drawn_in_two_halves_or_a_circle_from_elsewhere_does_not_matter() -> (
    None
):
    whole = shape_of([circle(0, 0, 20), circle(12, 0, 3)])
    other = shape_of([circle(0, 0, 20, start=1.0), circle(12, 0, 3, start=tau / 3)])
    assert mirror(whole, other) is words.Mirror.BOTH
