"""A part as the paths of an SVG: outlines in one ink, gaps marked by rings."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan

from fabshop.reckoning.drawing.edge import Vertex, bulge_arc
from fabshop.reckoning.drawing.shape import Shape
from fabshop.reckoning.drawing.width import extent

# More than this is no picture on a phone, and no page of a few kilobytes.
MOST_VERTICES = 6000


@dataclass(frozen=True)
class Picture:
    """`d` of each path, and the rings round loose ends; y runs down, as SVG wants."""

    view: str
    stroke: float
    cut: str
    open: str
    bend: str
    mark: str
    rings: tuple[tuple[str, str], ...]
    ring_radius: float
    is_whole: bool


def picture(shape: Shape) -> Picture:
    """The picture of a part, scaled to its own size with a margin round it."""
    longest = max(shape.longest_mm, 1e-3)
    margin = longest * 0.04
    x0, y0, _, _ = extent(path for path, _ in shape.outlines)
    left, top = x0 - margin, -(y0 + shape.height_mm) - margin
    view = (left, top, shape.width_mm + 2 * margin, shape.height_mm + 2 * margin)
    closed: list[str] = []
    opened: list[str] = []
    left_over = MOST_VERTICES
    for path, is_closed in shape.outlines:
        left_over -= len(path)
        if left_over < 0:
            break
        (closed if is_closed else opened).append(_path(path, is_closed, longest))
    return Picture(
        view=" ".join(_number(v, longest) for v in view),
        stroke=longest / 160,
        cut=" ".join(closed),
        open=" ".join(opened),
        bend=" ".join(_path(path, False, longest) for path in shape.bends[:200]),
        mark=" ".join(_path(path, False, longest) for path in shape.marks[:200]),
        rings=tuple(
            (_number(p[0], longest), _number(-p[1], longest))
            for gap in shape.gaps[:20]
            for p in (gap.here, gap.there)
            if p is not None
        ),
        ring_radius=longest / 40,
        is_whole=left_over >= 0,
    )


def _path(vertices: tuple[Vertex, ...], closed: bool, longest: float) -> str:
    first = vertices[0]
    told = [f"M{_number(first[0], longest)} {_number(-first[1], longest)}"]
    for here, there in zip(vertices, vertices[1:], strict=False):
        end = f"{_number(there[0], longest)} {_number(-there[1], longest)}"
        if here[2] and here[:2] != there[:2]:
            _, radius, _, _ = bulge_arc(here, there)
            large = int(abs(4 * atan(here[2])) > 3.141592653589793)
            # With y turned over, what bends to the left is drawn to the right.
            sweep = int(here[2] < 0)
            r = _number(radius, longest)
            told.append(f"A{r} {r} 0 {large} {sweep} {end}")
        else:
            told.append(f"L{end}")
    return "".join(told) + ("Z" if closed else "")


def _number(value: float, longest: float) -> str:
    """As many places as can be seen: a thousandth of the part."""
    places = 3 if longest < 10 else 2 if longest < 500 else 1
    return f"{value:.{places}f}".rstrip("0").rstrip(".") or "0"
