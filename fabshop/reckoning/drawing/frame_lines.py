"""The straight lines of a DXF in space, as a frame's tubes; runs in the worker only."""

from __future__ import annotations

from collections import Counter
from math import isfinite
from typing import Any

from fabshop.errors import BadInput, TooLarge
from fabshop.reckoning.drawing.opened import drawn, opened
from fabshop.reckoning.drawing.read import MOST_OUT_MM, UNITS

MOST_LINES = 2_000


def frame_lines(content: bytes) -> dict[str, Any]:
    """Every LINE as six millimetres, start then end, and what was left out.

    `unit` is the file's own by its $INSUNITS, "" where it has none and millimetres
    are taken for granted. What is no line is counted by its kind in `left_out`.
    """
    document = opened(content)
    try:
        code = int(document.header.get("$INSUNITS", 0))
    except (TypeError, ValueError):
        code = 0
    unit, scale = UNITS.get(code, ("", 1.0))
    lines: list[list[float]] = []
    left_out: Counter[str] = Counter()
    for entity, _ in drawn(document):
        if entity.dxftype() != "LINE":
            left_out[entity.dxftype()] += 1
            continue
        ends = (entity.dxf.start, entity.dxf.end)
        line = [value * scale for end in ends for value in (end.x, end.y, end.z)]
        if not all(isfinite(value) and abs(value) <= MOST_OUT_MM for value in line):
            raise BadInput(
                "A line of this drawing lies more than 100 m out. Is its unit right?",
                field="file",
            )
        lines.append([round(value, 6) for value in line])
        if len(lines) > MOST_LINES:
            raise TooLarge(
                f"The drawing has more than {MOST_LINES} lines. Send the frame's "
                "centrelines alone.",
                field="file",
            )
    return {"lines": lines, "unit": unit, "left_out": sorted(left_out.items())}
