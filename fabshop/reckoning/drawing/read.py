"""Reads a DXF into the facts of a part; runs in the worker, and only there."""

from __future__ import annotations

import gc
from collections import Counter
from collections.abc import Iterator
from math import isfinite, radians, tau
from typing import Any

from ezdxf.document import Drawing
from ezdxf.entities.dxfentity import DXFEntity

from fabshop.errors import BadInput, TooLarge
from fabshop.reckoning.drawing.edge import (
    Edge,
    Point,
    Vertex,
    arc,
    ellipse,
    line,
    polyline,
)
from fabshop.reckoning.drawing.kept import to_json
from fabshop.reckoning.drawing.opened import drawn, opened
from fabshop.reckoning.drawing.shape import shape_of
from fabshop.reckoning.drawing.spline import Spline

# Millimetres to one unit of the file, by its $INSUNITS (DXF reference, HEADER).
UNITS = {
    1: ("in", 25.4),
    2: ("ft", 304.8),
    4: ("mm", 1.0),
    5: ("cm", 10.0),
    6: ("m", 1000.0),
    8: ("microinch", 2.54e-5),
    9: ("mil", 0.0254),
    13: ("µm", 0.001),
    14: ("dm", 100.0),
}
MOST_SPLINE_POINTS = 4_000
MOST_OUT_MM = 100_000.0

Space = tuple[float, float, float]


def read(content: bytes) -> dict[str, Any]:
    """The facts of the part in a DXF, as `kept` tells them.

    Refuses, with a sentence that names the file, what is no DXF, holds nothing to
    cut, or is too much to read.
    """
    # A hundred thousand small things that all stay: looking for rubbish only delays.
    gc.disable()
    try:
        document = opened(content)
        reader = _Reader(document)
        edges = list(reader.edges())
        shape = shape_of(
            edges,
            reader.unit,
            left_out=tuple(sorted(reader.left_out.items())),
            is_metric_file=reader.is_metric,
            notes=tuple(reader.notes),
        )
    except (MemoryError, RecursionError):
        raise TooLarge(
            "Reading this drawing wants more memory than a part can need. Send the "
            "part alone, without blocks and splines of thousands of points.",
            field="file",
        ) from None
    finally:
        gc.enable()
    if not shape.outlines:
        seen = ", ".join(f"{count} {name}" for name, count in shape.left_out)
        raise BadInput(
            "Nothing in this drawing is a line to cut"
            + (f"; it holds {seen}." if seen else "; it is empty."),
            field="file",
        )
    return to_json(shape)


def lines_of(content: bytes) -> list[tuple[Space, Space]]:
    """The straight lines of a DXF in space, in mm: LINE, and polylines by stretch."""
    try:
        document = opened(content)
        scale = _Reader(document).scale
        found: list[tuple[Space, Space]] = []
        for entity, _ in drawn(document):
            kind = entity.dxftype()
            if kind == "LINE":
                places = [entity.dxf.start, entity.dxf.end]
            elif kind == "POLYLINE":
                places = [v.dxf.location for v in entity.vertices]  # type: ignore[attr-defined]
            elif kind == "LWPOLYLINE":
                places = list(entity.vertices_in_wcs())  # type: ignore[attr-defined]
            else:
                continue
            points = [(p[0] * scale, p[1] * scale, p[2] * scale) for p in places]
            if not all(isfinite(value) for p in points for value in p):
                raise BadInput("A line of the drawing ends nowhere.", field="file")
            found += zip(points, points[1:], strict=False)
        return found
    except (MemoryError, RecursionError):
        raise TooLarge(
            "Reading this drawing wants more memory than a frame can need.",
            field="file",
        ) from None


class _Reader:
    """Turns entities into edges in millimetres and counts what it leaves out."""

    def __init__(self, document: Drawing) -> None:
        self.document = document
        try:
            code = int(document.header.get("$INSUNITS", 0))
            measurement = document.header.get("$MEASUREMENT", None)
            self.is_metric = None if measurement is None else bool(int(measurement))
        except (TypeError, ValueError):
            code, self.is_metric = 0, None
        # Without a unit the figures are taken as millimetres, and said to be doubtful.
        self.unit, self.scale = UNITS.get(code, ("", 1.0))
        self.left_out: Counter[str] = Counter()
        self.notes: list[str] = []
        self.spline_points = 0
        self.hidden = {
            layer.dxf.name
            for layer in document.layers
            if layer.is_off() or layer.is_frozen()
        }

    def edges(self) -> Iterator[Edge]:
        entities = list(drawn(self.document))
        # Counted before any is measured: each point costs as much as ten lines.
        points = sum(
            _points_of(entity) for entity, _ in entities if entity.dxftype() == "SPLINE"
        )
        if points > MOST_SPLINE_POINTS:
            raise TooLarge(
                f"The splines of this drawing have {points} points, and at most "
                f"{MOST_SPLINE_POINTS} are read. Export them as arcs or polylines.",
                field="file",
            )
        self.spline_points = points
        for entity, layer in entities:
            if layer in self.hidden:
                self.left_out[f"on the hidden layer {layer[:40]}"] += 1
                continue
            try:
                edge = self._edge(entity, layer)
            except (ValueError, ZeroDivisionError, ArithmeticError, AttributeError):
                edge = None
            if edge is None:
                self.left_out[entity.dxftype()] += 1
            elif not self._is_sane(edge):
                raise BadInput(
                    f"A {entity.dxftype()} of the drawing lies more than "
                    f"{MOST_OUT_MM / 1000:g} m away, or nowhere. Move the part to the "
                    "origin and export it again.",
                    field="file",
                )
            else:
                yield edge

    def _is_sane(self, edge: Edge) -> bool:
        return all(
            isfinite(x)
            and isfinite(y)
            and isfinite(b)
            and max(abs(x), abs(y)) < MOST_OUT_MM
            for x, y, b in edge.vertices
        )

    def _edge(self, entity: DXFEntity, layer: str) -> Edge | None:
        kind, dxf = entity.dxftype(), entity.dxf
        if kind == "LINE":
            return line(self._flat(dxf.start), self._flat(dxf.end), layer)
        if kind in ("CIRCLE", "ARC"):
            side = self._side(entity)
            start, sweep = 0.0, tau
            if kind == "ARC":
                start = radians(dxf.start_angle)
                sweep = radians((dxf.end_angle - dxf.start_angle) % 360 or 360)
            x, y = dxf.center[0] * self.scale, dxf.center[1] * self.scale
            if side < 0:
                # Seen from below: the x axis runs the other way.
                x, start, sweep = -x, tau / 2 - start, -sweep
            radius = dxf.radius * self.scale
            return arc((x, y), radius, start, sweep, layer) if radius > 0 else None
        if kind in ("LWPOLYLINE", "POLYLINE"):
            return self._polyline(entity, layer)
        if kind == "ELLIPSE":
            self._side(entity)
            end = dxf.start_param + ((dxf.end_param - dxf.start_param) % tau or tau)
            ratio = dxf.ratio * self._side(entity)
            return ellipse(
                self._flat(dxf.center),
                self._flat(dxf.major_axis),
                ratio,
                dxf.start_param,
                end,
                layer,
            )
        if kind == "SPLINE":
            return self._spline(entity, layer)
        return None

    def _flat(self, place: Any) -> Point:
        return (float(place[0]) * self.scale, float(place[1]) * self.scale)

    def _side(self, entity: DXFEntity) -> float:
        """1 where it is seen from above, -1 from below; refused where it is tilted."""
        x, y, z = entity.dxf.get("extrusion", (0, 0, 1))
        if abs(x) > 1e-6 or abs(y) > 1e-6:
            raise ValueError("it does not lie flat")
        return 1.0 if z > 0 else -1.0

    def _polyline(self, entity: Any, layer: str) -> Edge | None:
        side = self._side(entity)
        if entity.dxftype() == "LWPOLYLINE":
            told = [(p[0], p[1], p[2]) for p in entity.get_points("xyb")]
            closed = bool(entity.closed)
        elif entity.is_2d_polyline or entity.is_3d_polyline:
            told = [
                (v.dxf.location[0], v.dxf.location[1], v.dxf.get("bulge", 0.0))
                for v in entity.vertices
            ]
            closed = bool(entity.is_closed)
            side = 1.0 if entity.is_3d_polyline else side
        else:
            return None
        if len(told) < 2:
            return None
        vertices: list[Vertex] = [
            (x * self.scale * side, y * self.scale, b * side) for x, y, b in told
        ]
        if closed:
            vertices.append((vertices[0][0], vertices[0][1], 0.0))
        return polyline(vertices, layer)

    def _spline(self, entity: Any, layer: str) -> Edge | None:
        if not entity.control_points and not entity.fit_points:
            return None
        tool = entity.construction_tool()
        spline = Spline(
            tool.degree,
            [float(knot) for knot in tool.knots()],
            [self._flat(point) for point in tool.control_points],
            [float(weight) for weight in tool.weights()],
        )
        return spline.edge(layer, self.spline_points)


def _points_of(spline: Any) -> int:
    return max(len(spline.control_points), len(spline.fit_points))
