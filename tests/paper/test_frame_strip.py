"""Strips lie on the page as the tube stands: head above, foot below."""

from __future__ import annotations

import re

from fabshop.paper.frame_strip import (
    GAP_MM,
    Fit,
    bars_svg,
    height_mm,
    placed_on_page,
    svg,
    tiles_of,
    width_mm,
)
from fabshop.reckoning.wrap import CopeEnd, Template, strips

BOTH = Template(8, 0.9, (CopeEnd(8, 62.5), CopeEnd(8, 48, joint="J<3>")), 14)


def test_the_other_end_stands_above_and_is_kept_below_its_line() -> None:
    lower, upper = strips(BOTH)
    first, second = placed_on_page([lower, upper])
    assert (first.strip, second.strip) == (upper, lower)
    assert first.y_mm(upper.waste_edge_mm) == 0
    assert first.y_mm(upper.keep_edge_mm) == upper.height_mm
    assert second.y_mm(lower.keep_edge_mm) == upper.height_mm + GAP_MM
    assert second.y_mm(lower.waste_edge_mm) == height_mm([lower, upper])


def test_names_are_escaped_and_every_clip_is_its_own() -> None:
    drawn = svg(strips(BOTH), Fit())
    assert "J&lt;3&gt; 48.0° dial 42.0° on 8" in drawn
    names = re.findall(r'id="(waste-\d+)"', drawn + svg(strips(BOTH), Fit()))
    assert len(names) == len(set(names)) == 4


def test_one_svg_unit_is_one_millimetre() -> None:
    drawn = svg(strips(BOTH), Fit())
    width = float(re.search(r'width="([\d.]+)mm"', drawn)[1])  # type: ignore[index]
    box = re.search(r'viewBox="([-\d. ]+)"', drawn)[1].split()  # type: ignore[index]
    assert float(box[2]) == width
    assert abs(width - width_mm(strips(BOTH)[0]) - 1) < 1e-3


def test_only_what_is_wider_than_the_page_is_tiled() -> None:
    (narrow,) = strips(Template(50, 2, (CopeEnd(60, 60),)))
    (wide,) = strips(Template(76, 2, (CopeEnd(90, 60),)))
    assert tiles_of(narrow, Fit()) == [None]
    assert tiles_of(wide, Fit()) == [0, 1]
    assert tiles_of(narrow, Fit(across=1.2)) == [0, 1]


def test_a_fit_stretches_across_and_along_apart() -> None:
    assert not Fit(1.02, 1.0).is_plain
    drawn = bars_svg(Fit(1.02, 1.0))
    across = re.search(r'd="M([\d.]+) [\d.]+L([\d.]+) [^"]+"[^>]*bar-across', drawn)
    assert across is not None
    assert abs(float(across[2]) - float(across[1]) - 51) < 1e-3
