"""DXF files whose area and cut length are known exactly, read whole."""

from __future__ import annotations

from math import pi, sqrt
from typing import Any

import pytest

from fabshop import words
from fabshop.errors import BadInput, TooLarge
from fabshop.reckoning.drawing.kept import from_json
from fabshop.reckoning.drawing.mirror import mirror
from fabshop.reckoning.drawing.read import MOST_SPLINE_POINTS, lines_of, read
from fabshop.reckoning.drawing.shape import Shape
from tests.reckoning.drawing.drawn import dxf, new


def shape(document: Any) -> Shape:
    return from_json(read(dxf(document)))


def test_a_ring_in_millimetres() -> None:
    document, model = new()
    model.add_circle((100, 50), 30)
    model.add_circle((100, 50), 20)
    found = shape(document)
    assert found.unit == "mm"
    assert found.area_mm2 == pytest.approx(500 * pi)
    assert found.cut_mm == pytest.approx(100 * pi)
    assert (found.width_mm, found.pierces) == (pytest.approx(60), 2)


def test_a_plate_in_inches_is_told_in_millimetres() -> None:
    document, model = new(unit=1)
    model.add_lwpolyline([(0, 0), (4, 0), (4, 2), (0, 2)], close=True)
    model.add_circle((1, 1), 0.25)
    found = shape(document)
    assert found.unit == "in"
    assert (found.width_mm, found.height_mm) == (pytest.approx(101.6), 50.8)
    assert found.area_mm2 == pytest.approx((8 - pi / 16) * 25.4**2)


def test_lines_and_arcs_in_any_order_make_a_slot() -> None:
    document, model = new()
    model.add_arc((40, 5), 5, -90, 90)
    model.add_line((10, 10), (40, 10))
    model.add_arc((10, 5), 5, 90, 270)
    model.add_line((40, 0), (10, 0))
    found = shape(document)
    assert found.is_closed
    assert found.area_mm2 == pytest.approx(300 + 25 * pi)
    assert found.cut_mm == pytest.approx(60 + 10 * pi)


def test_a_polyline_with_bulges() -> None:
    document, model = new()
    model.add_lwpolyline(
        [(0, 0, 0), (30, 0, 1), (30, 10, 0), (0, 10, 1)], format="xyb", close=True
    )
    found = shape(document)
    assert found.area_mm2 == pytest.approx(300 + 25 * pi)
    assert found.width_mm == pytest.approx(40)


def test_an_old_polyline_and_an_ellipse() -> None:
    document, model = new()
    model.add_polyline2d([(0, 0), (60, 0), (60, 40), (0, 40)], close=True)
    model.add_ellipse((30, 20), (10, 0), 0.5)
    found = shape(document)
    assert found.area_mm2 == pytest.approx(2400 - 50 * pi)


def test_a_spline_that_is_an_exact_circle() -> None:
    document, model = new()
    w = sqrt(0.5)
    square = [(1, 0), (1, 1), (0, 1), (-1, 1), (-1, 0), (-1, -1), (0, -1), (1, -1)]
    spline = model.add_rational_spline(
        [(20 * x, 20 * y) for x, y in [*square, (1, 0)]],
        weights=[1, w, 1, w, 1, w, 1, w, 1],
        degree=2,
    )
    spline.knots = [0, 0, 0, 1, 1, 2, 2, 3, 3, 4, 4, 4]
    found = shape(document)
    assert found.is_closed
    assert found.area_mm2 == pytest.approx(400 * pi, rel=1e-6)
    assert found.cut_mm == pytest.approx(40 * pi, rel=1e-6)


def test_a_block_put_in_turned_stretched_and_in_rows() -> None:
    document, model = new()
    model.add_lwpolyline([(0, 0), (100, 0), (100, 50), (0, 50)], close=True)
    document.blocks.new("HOLE").add_circle((0, 0), 2)
    model.add_blockref(
        "HOLE",
        (10, 10),
        dxfattribs={
            "column_count": 3, "column_spacing": 20, "row_count": 2, "row_spacing": 20,
        },
    )  # fmt: skip
    model.add_blockref("HOLE", (90, 40), dxfattribs={"xscale": 2, "yscale": 1})
    found = shape(document)
    assert found.area_mm2 == pytest.approx(5000 - 6 * 4 * pi - 8 * pi)
    assert len(found.holes) == 7


def test_what_is_seen_from_below_is_turned_over() -> None:
    document, model = new()
    below = {"extrusion": (0, 0, -1)}
    corners = [(0, 0), (60, 0), (60, 20), (0, 40)]
    model.add_lwpolyline(corners, close=True, dxfattribs=below)
    model.add_circle((10, 10), 3, dxfattribs=below)
    straight, other = new()
    other.add_lwpolyline(corners, close=True)
    other.add_circle((10, 10), 3)
    assert mirror(shape(document), shape(straight)) is words.Mirror.MIRRORED


def test_a_mirrored_pair_of_files() -> None:
    left, model = new()
    corners = [(0, 0), (60, 0), (60, 20), (0, 40)]
    model.add_lwpolyline(corners, close=True)
    right, model = new(unit=1)
    model.add_lwpolyline([(-x / 25.4, y / 25.4) for x, y in corners], close=True)
    assert mirror(shape(left), shape(right)) is words.Mirror.MIRRORED
    assert mirror(shape(left), shape(left)) is words.Mirror.SAME


def test_an_open_outline_is_read_and_said() -> None:
    document, model = new()
    for a, b in (((0, 0), (50, 0)), ((50, 0), (50, 20)), ((50, 20), (0, 0.4))):
        model.add_line(a, b)
    found = shape(document)
    assert not found.is_closed
    assert found.gaps[0].mm == pytest.approx(0.4)


def test_what_is_not_cut_is_counted_and_left_out() -> None:
    document, model = new()
    document.layers.add("NOTES").off()
    model.add_circle((0, 0), 5)
    model.add_text("do not cut")
    model.add_circle((0, 0), 50, dxfattribs={"layer": "NOTES"})
    model.add_line((0, 0), (1, 1), dxfattribs={"layer": "BEND"})
    found = shape(document)
    assert dict(found.left_out) == {"TEXT": 1, "on the hidden layer NOTES": 1}
    assert dict(found.layers) == {"0": "cut", "BEND": "bend"}


def test_without_a_unit_it_is_taken_as_millimetres_and_says_none() -> None:
    document, model = new(unit=0)
    model.add_circle((0, 0), 5)
    assert shape(document).unit == ""


def test_a_drawing_of_nothing_to_cut_is_refused() -> None:
    document, model = new()
    model.add_text("only words")
    with pytest.raises(BadInput, match=r"holds 1 TEXT\.") as caught:
        read(dxf(document))
    assert caught.value.field == "file"


def test_an_endless_spline_is_refused_before_it_is_measured() -> None:
    document, model = new()
    model.add_spline_control_frame([(0, 0), (1, 1), (2, 0), (3, 1)])
    model.add_open_spline([(n, n % 7) for n in range(MOST_SPLINE_POINTS + 1)])
    with pytest.raises(TooLarge, match="splines of this drawing have"):
        read(dxf(document))


@pytest.mark.parametrize("far", [1e9, float("inf"), float("nan")])
def test_what_lies_nowhere_is_refused(far: float) -> None:
    document, model = new()
    model.add_line((0, 0), (far, 0))
    with pytest.raises(BadInput, match="origin|torn"):
        read(dxf(document))


def test_lines_in_space_for_a_frame() -> None:
    document, model = new(unit=6)
    model.add_line((0, 0, 0), (0.1, 0, 0.25))
    model.add_polyline3d([(0, 0, 0), (0.1, 0, 0), (0.1, 0.2, 0)])
    model.add_circle((0, 0), 5)
    lines = lines_of(dxf(document))
    assert lines[0][1] == pytest.approx((100, 0, 250))
    assert len(lines) == 3
