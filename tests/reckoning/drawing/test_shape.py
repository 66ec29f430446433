"""Parts whose area and cut length are known exactly."""

from __future__ import annotations

from math import pi

import pytest

from fabshop import words
from fabshop.reckoning.drawing.edge import Edge, arc, line, polyline
from fabshop.reckoning.drawing.shape import is_inside, shape_of, use_of
from tests.reckoning.drawing.drawn import circle, polygon


def on(layer: str, edge: Edge) -> Edge:
    return Edge(edge.vertices, edge.length, edge.area, layer)


def test_a_disc() -> None:
    shape = shape_of([circle(10, 10, 20)])
    assert shape.area_mm2 == pytest.approx(400 * pi)
    assert shape.cut_mm == pytest.approx(40 * pi)
    assert (shape.pierces, shape.outers, shape.holes) == (1, 1, ())
    assert shape.width_mm == pytest.approx(40, abs=0.01)
    assert shape.is_closed


def test_a_ring() -> None:
    shape = shape_of([circle(0, 0, 30), circle(0, 0, 20)])
    assert shape.area_mm2 == pytest.approx(500 * pi)
    assert shape.cut_mm == pytest.approx(100 * pi)
    assert shape.pierces == 2
    assert shape.holes[0].width_mm == pytest.approx(40, rel=1e-9)


def test_a_gasket_with_holes_and_round_corners() -> None:
    # 100 x 60 with corners of radius 10, a bore of 30 and four holes of 5.
    b = 0.41421356237309503
    corners = [
        (10, 0, 0), (90, 0, b), (100, 10, 0), (100, 50, b), (90, 60, 0), (10, 60, b),
        (0, 50, 0), (0, 10, b), (10, 0, 0),
    ]  # fmt: skip
    holes = [circle(x, y, 2.5) for x in (12, 88) for y in (12, 48)]
    shape = shape_of([polyline(corners), circle(50, 30, 15), *holes])  # type: ignore[arg-type]
    assert shape.area_mm2 == pytest.approx(
        6000 - (400 - 100 * pi) - 225 * pi - 4 * 6.25 * pi
    )
    assert shape.cut_mm == pytest.approx(320 - 80 + 20 * pi + 30 * pi + 20 * pi)
    assert (shape.pierces, len(shape.holes)) == (6, 5)
    assert [hole.width_mm for hole in shape.holes] == pytest.approx([5, 5, 5, 5, 30])


def test_a_slot_is_as_wide_as_between_its_sides() -> None:
    slot = [
        line((20, 10), (40, 10)),
        arc((40, 12), 2, -pi / 2, pi),
        line((40, 14), (20, 14)),
        arc((20, 12), 2, pi / 2, pi),
    ]
    shape = shape_of([*polygon([(0, 0), (60, 0), (60, 30), (0, 30)]), *slot])
    assert shape.holes[0].width_mm == pytest.approx(4)
    assert shape.area_mm2 == pytest.approx(1800 - 80 - 4 * pi)


def test_a_part_in_a_hole_of_a_part_is_material_again() -> None:
    shape = shape_of([circle(0, 0, 30), circle(0, 0, 20), circle(0, 0, 5)])
    assert shape.outers == 2
    assert shape.area_mm2 == pytest.approx((900 - 400 + 25) * pi)


def test_an_open_outline_is_cut_but_encloses_nothing() -> None:
    shape = shape_of([line((0, 0), (50, 0)), line((50, 0), (50, 20))])
    assert (shape.outers, shape.open_count, shape.area_mm2) == (0, 1, 0)
    assert shape.cut_mm == 70
    assert not shape.is_closed


def test_bends_and_engraving_are_told_by_their_layers_and_are_not_cut() -> None:
    shape = shape_of(
        [
            *polygon([(0, 0), (60, 0), (60, 30), (0, 30)]),
            on("BEND_UP", line((30, 0), (30, 30))),
            on("Engraving", line((5, 5), (15, 5))),
            on("Defpoints", line((0, 0), (900, 0))),
        ]
    )
    assert (shape.cut_mm, shape.bend_mm, shape.mark_mm) == (180, 30, 10)
    assert shape.width_mm == 60


@pytest.mark.parametrize(
    ("layer", "use"),
    [
        ("0", words.LayerUse.CUT),
        ("Outline", words.LayerUse.CUT),
        ("fold lines", words.LayerUse.BEND),
        ("ETCH", words.LayerUse.MARK),
        ("DIMENSIONS", words.LayerUse.NONE),
    ],
)
def test_what_a_layer_is_for(layer: str, use: words.LayerUse) -> None:
    assert use_of(layer) is use


def test_inside_and_outside() -> None:
    square = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0), (0.0, 0.0)]
    assert is_inside((1, 1), square)
    assert not is_inside((5, 1), square)


def test_nothing_is_nothing() -> None:
    shape = shape_of([])
    assert (shape.outers, shape.cut_mm, shape.longest_mm) == (0, 0, 0)
