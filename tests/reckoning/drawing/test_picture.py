"""The picture shows the part the right way up, arcs as arcs, gaps ringed."""

from __future__ import annotations

from fabshop.reckoning.drawing.edge import line, polyline
from fabshop.reckoning.drawing.picture import MOST_VERTICES, picture
from fabshop.reckoning.drawing.shape import shape_of
from tests.reckoning.drawing.drawn import circle, polygon


def test_a_triangle_is_drawn_with_y_upwards_inside_its_view() -> None:
    shown = picture(shape_of(polygon([(10, 0), (60, 0), (10, 30)])))
    assert shown.cut.startswith("M")
    assert shown.cut.endswith("Z")
    assert "L60 0" in shown.cut
    assert "10 -30" in shown.cut
    assert shown.view == "8 -32 54 34"
    assert shown.is_whole


def test_an_arc_stays_an_arc_and_bends_to_the_same_side() -> None:
    # From (0, 0) to (10, 0) with bulge 1: below the chord, so in SVG's y below too.
    half = polyline([(0, 0, 1.0), (10, 0, 0.0), (0, 0, 0.0)])
    assert "A5 5 0 0 0 10 0" in picture(shape_of([half])).cut


def test_the_view_holds_a_circle_whole() -> None:
    shown = picture(shape_of([circle(0, 0, 25)]))
    left, top, width, height = map(float, shown.view.split())
    assert left <= -25 and left + width >= 25
    assert top <= -25 and top + height >= 25


def test_loose_ends_are_ringed() -> None:
    shown = picture(shape_of([line((0, 0), (50, 0)), line((50, 0), (0, 1))]))
    assert shown.cut == ""
    assert shown.open
    assert set(shown.rings) == {("0", "0"), ("0", "-1")}


def test_what_is_too_much_for_a_page_is_left_out_and_said() -> None:
    many = [circle(x * 3, 0, 1) for x in range(MOST_VERTICES // 3 + 5)]
    assert not picture(shape_of(many)).is_whole
