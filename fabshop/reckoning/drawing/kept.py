"""A shape as it is kept with its drawing, as plain JSON, and read back from it."""

from __future__ import annotations

from typing import Any

from fabshop.reckoning.drawing.edge import Point, Vertex
from fabshop.reckoning.drawing.outline import Gap
from fabshop.reckoning.drawing.shape import Hole, Shape

_PLAIN = (
    *("unit", "width_mm", "height_mm", "area_mm2", "cut_mm", "bend_mm", "mark_mm"),
    *("outers", "pierces", "open_count", "twice", "is_metric_file"),
)


def to_json(shape: Shape) -> dict[str, Any]:
    """Millimetres to the nanometre, bulges to ten places: nothing that can be seen."""
    told: dict[str, Any] = {name: _short(getattr(shape, name)) for name in _PLAIN}
    return told | {
        "holes": [[round(v, 4) for v in (h.width_mm, h.x, h.y)] for h in shape.holes],
        "outlines": [[_path(path), closed] for path, closed in shape.outlines],
        "bends": [_path(path) for path in shape.bends],
        "marks": [_path(path) for path in shape.marks],
        "gaps": [[list(g.here), g.there and list(g.there), g.mm] for g in shape.gaps],
        "crossings": [list(point) for point in shape.crossings],
        "layers": [list(pair) for pair in shape.layers],
        "left_out": [list(pair) for pair in shape.left_out],
        "notes": list(shape.notes),
    }


def from_json(told: dict[str, Any]) -> Shape:
    """The shape that `to_json` told."""
    return Shape(
        **{name: told[name] for name in _PLAIN},
        holes=tuple(Hole(*hole) for hole in told["holes"]),
        outlines=tuple((_vertices(path), closed) for path, closed in told["outlines"]),
        bends=tuple(_vertices(path) for path in told["bends"]),
        marks=tuple(_vertices(path) for path in told["marks"]),
        gaps=tuple(
            Gap(_point(here), _point(there) if there else None, mm)
            for here, there, mm in told["gaps"]
        ),
        crossings=tuple(_point(point) for point in told["crossings"]),
        layers=tuple((name, use) for name, use in told["layers"]),
        left_out=tuple((name, count) for name, count in told["left_out"]),
        notes=tuple(told["notes"]),
    )


def _short(value: Any) -> Any:
    return round(value, 6) if isinstance(value, float) else value


def _path(vertices: tuple[Vertex, ...]) -> list[list[float]]:
    return [[round(x, 6), round(y, 6), round(b, 10)] for x, y, b in vertices]


def _vertices(path: list[list[float]]) -> tuple[Vertex, ...]:
    return tuple((x, y, b) for x, y, b in path)


def _point(told: list[float]) -> Point:
    return (told[0], told[1])
