"""What is doubtful is said in words, with the place and the figure."""

from __future__ import annotations

from math import pi

import pytest

from fabshop import words
from fabshop.reckoning.drawing.doubts import (
    doubts,
    mass_mg,
    said_of_hands,
    small_holes,
)
from fabshop.reckoning.drawing.edge import line
from fabshop.reckoning.drawing.shape import Shape, shape_of
from tests.reckoning.drawing.drawn import circle, plate, polygon

SQUARE = [(0.0, 0.0), (50.0, 0.0), (50.0, 30.0), (0.0, 30.0)]


def names(shape: Shape, **more: object) -> list[str]:
    return [one.name for one in doubts(shape, **more)]  # type: ignore[arg-type]


def test_a_plain_plate_raises_no_doubt() -> None:
    assert doubts(plate(SQUARE, [(10, 10, 2)]), thickness_um=2000) == []


def test_an_open_outline_says_which_ends_and_by_how_much() -> None:
    edges = [*polygon(SQUARE)[:3], line((0, 30), (0, 0.3))]
    found = doubts(shape_of(edges, "mm"))
    assert [one.name for one in found] == ["no-outline", "open"]
    assert "(0.0, 0.0) and (0.0, 0.3) gap by 0.3 mm" in found[1].words or (
        "(0.0, 0.3) and (0.0, 0.0) gap by 0.3 mm" in found[1].words
    )
    assert all(one.stops for one in found)


def test_a_hole_narrower_than_the_sheet_is_thick_is_common_practice_to_avoid() -> None:
    shape = plate(SQUARE, [(10, 10, 0.9), (30, 10, 1.0)])
    (doubt,) = doubts(shape, thickness_um=2000)
    assert doubt.name == "small-hole"
    assert not doubt.stops
    assert "1 hole is narrower than 2 mm, the smallest 1.8 mm" in doubt.words
    assert "common practice, not a standard" in doubt.words


def test_a_hole_as_wide_as_the_sheet_is_thick_will_do() -> None:
    assert small_holes(plate(SQUARE, [(10, 10, 1.0)]), 2000) == []
    # In thin sheet 1 mm is the least; some shops go down to 0.7 of the thickness.
    assert len(small_holes(plate(SQUARE, [(10, 10, 0.45)]), 500)) == 1
    assert small_holes(plate(SQUARE, [(10, 10, 0.7)]), 2000, 0.7) == []


def test_without_a_unit_both_sizes_are_said() -> None:
    shape = shape_of(polygon(SQUARE), "")
    (doubt,) = doubts(shape)
    assert doubt.name == "no-unit"
    assert "as mm it is 50 mm by 30 mm; in inches it would be 1270.0 mm" in doubt.words


def test_inches_from_a_metric_program_are_doubtful() -> None:
    # A 5 mm part drawn as 5 in.
    shape = shape_of([circle(0, 0, 63.5)], "in", is_metric_file=True)
    (doubt,) = doubts(shape)
    assert doubt.name == "unit-doubtful"
    assert "127.0 mm by 127.0 mm, as mm 5 mm by 5 mm" in doubt.words


def test_twenty_five_times_the_drawing_before_it_is_asked_about() -> None:
    before = shape_of(polygon(SQUARE), "mm")
    big = shape_of(polygon([(x * 25.4, y * 25.4) for x, y in SQUARE]), "mm")
    assert names(big, earlier=before) == ["unit-jump"]
    assert names(before, earlier=big) == ["unit-jump"]
    assert names(before, earlier=before) == []


@pytest.mark.parametrize("factor", [0.03, 100.0])
def test_a_senseless_size_stops(factor: float) -> None:
    shape = shape_of(polygon([(x * factor, y * factor) for x, y in SQUARE]), "mm")
    (doubt,) = doubts(shape)
    assert (doubt.name, doubt.stops) == ("size", True)


def test_lines_drawn_twice_and_crossings_are_said() -> None:
    edges = polygon(SQUARE)
    assert names(shape_of([*edges, edges[0]], "mm")) == ["twice"]
    branched = shape_of([*edges, line((0, 0), (10, 10))], "mm")
    assert "crossing" in names(branched)


def test_two_parts_in_one_drawing_are_said() -> None:
    shape = shape_of([circle(0, 0, 9), circle(40, 0, 9)], "mm")
    assert names(shape) == ["parts"]


def test_a_part_weighs_area_by_thickness_by_density() -> None:
    # 50 x 30 x 2 mm of aluminium 5754, 2.67 g/cm³: 8.01 g.
    assert mass_mg(shape_of(polygon(SQUARE), "mm"), 2000, 2670) == 8010
    disc = shape_of([circle(0, 0, 10)], "mm")
    assert mass_mg(disc, 1000, 8000) == round(100 * pi * 8)


@pytest.mark.parametrize(
    ("found", "asks", "says"),
    [
        (words.Mirror.SAME, True, "two lefts would come"),
        (words.Mirror.DIFFERENT, True, "neither same nor mirrored"),
        (words.Mirror.MIRRORED, False, "mirror images of each other"),
        (words.Mirror.BOTH, False, "serves on either side"),
    ],
)
def test_what_is_said_of_left_and_right(
    found: words.Mirror, asks: bool, says: str
) -> None:
    sentence, must_ask = said_of_hands("L", found)
    assert must_ask is asks
    assert says in sentence
