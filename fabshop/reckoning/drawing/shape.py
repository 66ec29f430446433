"""The facts of a part from its edges: what is cut, what it measures, what is odd."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from math import floor, pi
from typing import Any

from fabshop import words
from fabshop.reckoning.drawing.edge import Edge, Point, Vertex, flat
from fabshop.reckoning.drawing.outline import Gap, Outline, joined
from fabshop.reckoning.drawing.width import Box, box, extent, narrowest

# Common practice: layers are told apart by what is written on them.
_LAYERS = (
    (words.LayerUse.BEND, re.compile(r"bend|fold|brake|kant|bieg", re.I)),
    (words.LayerUse.MARK, re.compile(r"engrav|etch|mark|scribe|grav|text", re.I)),
    (words.LayerUse.NONE, re.compile(r"defpoint|dimension|^dim|border|title", re.I)),
)


@dataclass(frozen=True, slots=True)
class Hole:
    """A cut-out: how wide at its narrowest, and where its middle is."""

    width_mm: float
    x: float
    y: float


@dataclass(frozen=True)
class Shape:
    """What was read of one drawing, in millimetres; plain enough to be kept as JSON.

    `outers` and `holes` count closed outlines; `cut_mm` is everything that is cut,
    `pierces` how often the cutter starts. `unit` is the file's own word ("" = none).
    """

    unit: str
    width_mm: float
    height_mm: float
    area_mm2: float
    cut_mm: float
    bend_mm: float
    mark_mm: float
    outers: int
    pierces: int
    holes: tuple[Hole, ...]
    outlines: tuple[tuple[tuple[Vertex, ...], bool], ...]
    bends: tuple[tuple[Vertex, ...], ...]
    marks: tuple[tuple[Vertex, ...], ...]
    gaps: tuple[Gap, ...] = ()
    open_count: int = 0
    crossings: tuple[Point, ...] = ()
    twice: int = 0
    layers: tuple[tuple[str, str], ...] = ()
    left_out: tuple[tuple[str, int], ...] = ()
    is_metric_file: bool | None = None
    notes: tuple[str, ...] = field(default=())

    @property
    def is_closed(self) -> bool:
        return self.outers > 0 and not self.open_count

    @property
    def longest_mm(self) -> float:
        return max(self.width_mm, self.height_mm)


def use_of(layer: str) -> words.LayerUse:
    """What a layer is for by its name; what says nothing is cut."""
    for use, says in _LAYERS:
        if says.search(layer):
            return use
    return words.LayerUse.CUT


def shape_of(edges: Iterable[Edge], unit: str = "", **more: Any) -> Shape:
    """Reckon the facts of a part from edges in millimetres."""
    by_use: dict[words.LayerUse, list[Edge]] = defaultdict(list)
    layers: dict[str, words.LayerUse] = {}
    for edge in edges:
        use = layers.setdefault(edge.layer, use_of(edge.layer))
        by_use[use].append(edge)
    found = joined(by_use[words.LayerUse.CUT])
    closed = [one for one in found.outlines if one.closed]
    opened = [one for one in found.outlines if not one.closed]
    flats = [flat(one.vertices) for one in closed]
    depths = _depths(closed, flats)
    x0, y0, x1, y1 = extent(one.vertices for one in found.outlines)
    holes = []
    for outline, points, depth in zip(closed, flats, depths, strict=True):
        if depth % 2:
            left, low, right, high = box(points)
            middle = ((left + right) / 2, (low + high) / 2)
            holes.append(Hole(_width_of(outline, points), *middle))
    return Shape(
        unit=unit,
        width_mm=x1 - x0,
        height_mm=y1 - y0,
        area_mm2=sum(
            -one.area if depth % 2 else one.area
            for one, depth in zip(closed, depths, strict=True)
        ),
        cut_mm=sum(one.length for one in found.outlines),
        bend_mm=sum(edge.length for edge in by_use[words.LayerUse.BEND]),
        mark_mm=sum(edge.length for edge in by_use[words.LayerUse.MARK]),
        outers=sum(1 for depth in depths if depth % 2 == 0),
        pierces=len(found.outlines),
        holes=tuple(sorted(holes, key=lambda hole: hole.width_mm)),
        outlines=tuple((one.vertices, one.closed) for one in found.outlines),
        bends=tuple(edge.vertices for edge in by_use[words.LayerUse.BEND]),
        marks=tuple(edge.vertices for edge in by_use[words.LayerUse.MARK]),
        gaps=found.gaps,
        open_count=len(opened),
        crossings=found.crossings,
        twice=found.twice,
        layers=tuple(sorted((name, str(use)) for name, use in layers.items())),
        **more,
    )


def _width_of(outline: Outline, points: Sequence[Point]) -> float:
    """The narrowest width; a circle's is its diameter, which chords would shorten.

    Of all shapes only the circle has as much area as its round allows.
    """
    if abs(outline.area * 4 * pi - outline.length**2) < 1e-6 * outline.length**2:
        return outline.length / pi
    return narrowest(points)


def _depths(outlines: Sequence[Outline], flats: Sequence[list[Point]]) -> list[int]:
    """In how many others each closed outline lies: even is material, odd a hole.

    Only a larger one whose box holds it can; small boxes are found by the cell of a
    grid that they touch, the few large ones are looked at always.
    """
    if not flats:
        return []
    boxes = [box(points) for points in flats]
    cell = max(sum(b[2] - b[0] + b[3] - b[1] for b in boxes) / len(boxes), 1e-6) * 2
    large: list[int] = []
    cells: dict[tuple[int, int], list[int]] = defaultdict(list)
    for n, (x0, y0, x1, y1) in enumerate(boxes):
        columns = range(floor(x0 / cell), floor(x1 / cell) + 1)
        rows = range(floor(y0 / cell), floor(y1 / cell) + 1)
        if len(columns) * len(rows) > 16:
            large.append(n)
        else:
            for column in columns:
                for row in rows:
                    cells[column, row].append(n)
    depths = []
    for n, points in enumerate(flats):
        at = (floor(points[0][0] / cell), floor(points[0][1] / cell))
        depths.append(
            sum(
                1
                for m in (*cells.get(at, ()), *large)
                if outlines[m].area > outlines[n].area
                and _holds(boxes[m], boxes[n])
                and is_inside(points[0], flats[m])
            )
        )
    return depths


def _holds(outer: Box, inner: Box) -> bool:
    return (
        outer[0] <= inner[0]
        and outer[1] <= inner[1]
        and outer[2] >= inner[2]
        and outer[3] >= inner[3]
    )


def is_inside(point: Point, polygon: Sequence[Point]) -> bool:
    """Whether a ray to the right crosses the polygon an odd number of times."""
    x, y = point
    inside = False
    for (x0, y0), (x1, y1) in zip(polygon, polygon[1:], strict=False):
        if (y0 > y) != (y1 > y) and x < x0 + (y - y0) * (x1 - x0) / (y1 - y0):
            inside = not inside
    return inside
