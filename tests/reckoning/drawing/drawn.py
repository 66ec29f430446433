"""Drawings made for the tests: as DXF bytes, and as edges whose measures are known."""

from __future__ import annotations

from collections.abc import Sequence
from io import StringIO
from math import cos, sin, tau
from typing import Any

import ezdxf

from fabshop.reckoning.drawing.edge import Edge, Point, arc, line
from fabshop.reckoning.drawing.shape import Shape, shape_of


def new(unit: int = 4) -> tuple[Any, Any]:
    """A document in mm (or another of $INSUNITS), and its model space."""
    document = ezdxf.new("R2010")
    document.header["$INSUNITS"] = unit
    return document, document.modelspace()


def dxf(document: Any) -> bytes:
    stream = StringIO()
    document.write(stream)
    return stream.getvalue().encode()


def circle(x: float, y: float, radius: float, start: float = 0.0) -> Edge:
    return arc((x, y), radius, start, tau)


def polygon(points: Sequence[Point]) -> list[Edge]:
    return [line(a, b) for a, b in zip(points, [*points[1:], points[0]], strict=True)]


def placed(
    points: Sequence[Point], turn: float = 0.0, at: Point = (0.0, 0.0), flip: int = 1
) -> list[Point]:
    """Points turned, moved, and before that flipped over the y axis for -1."""
    c, s = cos(turn), sin(turn)
    return [
        (flip * x * c - y * s + at[0], flip * x * s + y * c + at[1]) for x, y in points
    ]


def plate(
    corners: Sequence[Point], holes: Sequence[tuple[float, float, float]], **place: Any
) -> Shape:
    edges = polygon(placed(corners, **place))
    for x, y, radius in holes:
        edges.append(circle(*placed([(x, y)], **place)[0], radius))
    return shape_of(edges, "mm")
