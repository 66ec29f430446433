"""How quickly drawings are read, with what memory, and how hostile ones are refused."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path

from fabshop import worker
from fabshop.errors import ShopError

TWO_MB = 2 * 1024 * 1024
LIMIT_S = 15.0
_HEAD = (
    "0\nSECTION\n2\nHEADER\n9\n$ACADVER\n1\nAC1015\n9\n$INSUNITS\n70\n4\n0\nENDSEC\n"
)


def rows() -> Iterator[str]:
    """A 2 MB drawing of lines, then three that mean harm."""
    worker.run_small("fabshop.reckoning.drawing.read", "read", _part(), limit_s=60.0)
    for name, content in (
        ("2 MB of lines", _plates(TWO_MB)),
        ("a million entities", _file("0\nPOINT\n" * 1_000_000)),
        ("blocks in blocks", _blocks()),
        ("an endless spline", _spline(100_000)),
    ):
        began = time.monotonic()
        try:
            read = worker.run_small(
                "fabshop.reckoning.drawing.read", "read", content, limit_s=LIMIT_S
            )
            said = f"{read['pierces']} outlines"
        except ShopError as refusal:
            said = f"refused: {refusal.message[:70]}"
        seconds = time.monotonic() - began
        yield f"{name:<20} {seconds:5.2f} s, {_peak_mb()} MB at the most, {said}"


def _file(entities: str, blocks: str = "") -> bytes:
    told = f"0\nSECTION\n2\nBLOCKS\n{blocks}0\nENDSEC\n" if blocks else ""
    body = f"0\nSECTION\n2\nENTITIES\n{entities}0\nENDSEC\n0\nEOF\n"
    return (_HEAD + told + body).encode()


def _line(x: float, y: float, to_x: float, to_y: float) -> str:
    # With the owner and the two subclass marks that programs write.
    return (
        "0\nLINE\n330\n1F\n100\nAcDbEntity\n8\nCUT\n6\nContinuous\n62\n7\n370\n-3\n"
        f"100\nAcDbLine\n10\n{x:.6f}\n20\n{y:.6f}\n30\n0.0\n"
        f"11\n{to_x:.6f}\n21\n{to_y:.6f}\n31\n0.0\n"
    )


def _part() -> bytes:
    return _file(_line(0, 0, 9, 0) + _line(9, 0, 9, 9) + _line(9, 9, 0, 0))


def _plates(size: int) -> bytes:
    told: list[str] = []
    length = number = 0
    while length < size:
        x, y = number % 100 * 10.0, number // 100 * 10.0
        corners = [(x, y), (x + 8, y), (x + 8, y + 8), (x, y + 8), (x, y)]
        for a, b in zip(corners, corners[1:], strict=False):
            told.append(_line(*a, *b))
            length += len(told[-1])
        number += 1
    return _file("".join(told))


def _blocks() -> bytes:
    """Ten of each block in the next, twelve times over."""

    def block(name: str, held: str) -> str:
        return (
            f"0\nBLOCK\n8\n0\n2\n{name}\n70\n0\n10\n0\n20\n0\n30\n0\n3\n{name}\n"
            f"{held}0\nENDBLK\n8\n0\n"
        )

    def insert(name: str) -> str:
        return f"0\nINSERT\n8\n0\n2\n{name}\n10\n0\n20\n0\n30\n0\n"

    told = block("B0", _line(0, 0, 1, 1))
    told += "".join(block(f"B{n}", insert(f"B{n - 1}") * 10) for n in range(1, 12))
    return _file(insert("B11"), told)


def _spline(points: int) -> bytes:
    knots = "".join(f"40\n{n}\n" for n in range(points + 4))
    places = "".join(f"10\n{n}\n20\n{n % 7}\n30\n0\n" for n in range(points))
    marks = "0\nSPLINE\n100\nAcDbEntity\n8\nCUT\n100\nAcDbSpline\n"
    head = f"{marks}70\n8\n71\n3\n72\n{points + 4}\n73\n{points}\n74\n0\n"
    return _file(head + knots + places)


def _peak_mb() -> str:
    """The most that the reading process ever held, as Linux tells it."""
    process = worker._small._warm
    if process is None:
        return "?"
    try:
        told = Path(f"/proc/{process._popen.pid}/status").read_text()
    except OSError:
        return "?"
    found = told.partition("VmHWM:")[2].split()
    return str(int(found[0]) // 1024) if found else "?"
