"""Reads the lines of a PDF page back in millimetres of the paper, as a ruler would."""

from __future__ import annotations

from dataclasses import dataclass
from io import BytesIO
from typing import Any

from pypdf import PdfReader
from pypdf.generic import ContentStream

MM = 72 / 25.4
Point = tuple[float, float]
Matrix = tuple[float, float, float, float, float, float]


@dataclass(frozen=True)
class Line:
    """A stroked or filled line: its points from the page's lower left corner in mm."""

    points: tuple[Point, ...]
    width_mm: float
    is_filled: bool

    @property
    def length_mm(self) -> float:
        return sum(
            ((b[0] - a[0]) ** 2 + (b[1] - a[1]) ** 2) ** 0.5
            for a, b in zip(self.points, self.points[1:], strict=False)
        )


def lines_of(pdf: bytes) -> list[list[Line]]:
    """Every line of each page, in the order of drawing."""
    reader = PdfReader(BytesIO(pdf))
    found = []
    for page in reader.pages:
        assert page.get("/UserUnit", 1) == 1
        lines: list[Line] = []
        start: Matrix = (1, 0, 0, 1, 0, 0)
        stream = ContentStream(page.get_contents(), reader)
        _read(stream, page["/Resources"], start, lines, reader)
        found.append(lines)
    return found


def _read(
    stream: ContentStream, resources: Any, at: Matrix, lines: list[Line], reader: Any
) -> None:
    matrix, width = at, 1.0
    kept: list[tuple[Matrix, float]] = []
    path: list[Point] = []
    for operands, operator in stream.operations:
        n = [float(o) for o in operands] if _is_numbers(operands) else []
        match operator:
            case b"q":
                kept.append((matrix, width))
            case b"Q":
                matrix, width = kept.pop()
            case b"cm":
                matrix = _times((n[0], n[1], n[2], n[3], n[4], n[5]), matrix)
            case b"w":
                width = n[0]
            case b"m":
                path = [_placed(n[0], n[1], matrix)]
            case b"l":
                path.append(_placed(n[0], n[1], matrix))
            case b"S" | b"f" | b"f*" | b"B":
                size = abs(matrix[0] * matrix[3] - matrix[1] * matrix[2]) ** 0.5
                if path:
                    filled = operator != b"S"
                    lines.append(Line(tuple(path), width * size / MM, filled))
                path = []
            case b"n":
                path = []
            case b"Do":
                thing = resources["/XObject"][operands[0]].get_object()
                if thing["/Subtype"] == "/Form":
                    inner = thing.get("/Matrix", [1, 0, 0, 1, 0, 0])
                    a, b, c, d, e, f = (float(v) for v in inner)
                    _read(
                        ContentStream(thing, reader),
                        thing.get("/Resources", resources),
                        _times((a, b, c, d, e, f), matrix),
                        lines,
                        reader,
                    )


def _is_numbers(operands: Any) -> bool:
    return all(isinstance(o, int | float) or hasattr(o, "as_numeric") for o in operands)


def _placed(x: float, y: float, m: Matrix) -> Point:
    return (
        (m[0] * x + m[2] * y + m[4]) / MM,
        (m[1] * x + m[3] * y + m[5]) / MM,
    )


def _times(a: Matrix, b: Matrix) -> Matrix:
    """`a` first, then `b`."""
    return (
        a[0] * b[0] + a[1] * b[2],
        a[0] * b[1] + a[1] * b[3],
        a[2] * b[0] + a[3] * b[2],
        a[2] * b[1] + a[3] * b[3],
        a[4] * b[0] + a[5] * b[2] + b[4],
        a[4] * b[1] + a[5] * b[3] + b[5],
    )
