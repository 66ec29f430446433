"""Lines of a drawing into nodes and tubes: ends that nearly meet are one node."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fabshop.reckoning.frame.vector import Vector, dot, minus, plus, size, times


@dataclass(frozen=True)
class Snapped:
    """Nodes by number, and lines between them; `notes` say what was left out."""

    nodes: tuple[Vector, ...]
    lines: tuple[tuple[int, int], ...]
    notes: tuple[str, ...]


def snapped(lines: Sequence[tuple[Vector, Vector]], tolerance_mm: float) -> Snapped:
    """Bring ends within `tolerance_mm` of each other together in their middle.

    Ends are gathered in the order of the drawing, each to the nearest node so far.
    A line that becomes a point, and one drawn twice, is left out and told.
    """
    gathered: list[list[Vector]] = []
    numbers: list[tuple[int, int]] = []
    for start, end in lines:
        numbers.append(
            (
                _gather(gathered, start, tolerance_mm),
                _gather(gathered, end, tolerance_mm),
            )
        )
    kept: list[tuple[int, int]] = []
    notes: list[str] = []
    for number, (start_at, end_at) in enumerate(numbers, start=1):
        if start_at == end_at:
            notes.append(f"Line {number} is shorter than the tolerance: left out.")
        elif (start_at, end_at) in kept or (end_at, start_at) in kept:
            notes.append(f"Line {number} is drawn twice: left out.")
        else:
            kept.append((start_at, end_at))
    used = sorted({number for pair in kept for number in pair})
    place = {number: index for index, number in enumerate(used)}
    return Snapped(
        tuple(_middle(gathered[number]) for number in used),
        tuple((place[a], place[b]) for a, b in kept),
        tuple(notes),
    )


def _gather(gathered: list[list[Vector]], point: Vector, tolerance_mm: float) -> int:
    nearest = min(
        range(len(gathered)),
        key=lambda number: size(minus(_middle(gathered[number]), point)),
        default=None,
    )
    if nearest is not None and (
        size(minus(_middle(gathered[nearest]), point)) <= tolerance_mm
    ):
        gathered[nearest].append(point)
        return nearest
    gathered.append([point])
    return len(gathered) - 1


def _middle(points: Sequence[Vector]) -> Vector:
    total: Vector = (0.0, 0.0, 0.0)
    for point in points:
        total = plus(total, point)
    return times(total, 1 / len(points))


def who_runs_through(
    nodes: Sequence[Vector], lines: Sequence[tuple[int, int]], tolerance_mm: float
) -> list[tuple[int | None, int | None]]:
    """For each line, which other line each of its ends may be coped onto.

    An end in the middle of another line is coped onto that one. Where ends alone
    meet, the line drawn first runs through and the later ones are coped onto it.
    None where an end runs through or stands alone.
    """
    found: list[tuple[int | None, int | None]] = []
    for number, line in enumerate(lines):
        onto = [_onto(nodes, lines, number, node, tolerance_mm) for node in line]
        found.append((onto[0], onto[1]))
    return found


def _onto(
    nodes: Sequence[Vector],
    lines: Sequence[tuple[int, int]],
    number: int,
    node: int,
    tolerance_mm: float,
) -> int | None:
    for other, (start, end) in enumerate(lines):
        if other != number and node not in (start, end):
            way = minus(nodes[end], nodes[start])
            share = dot(minus(nodes[node], nodes[start]), way) / dot(way, way)
            foot = plus(nodes[start], times(way, share))
            if 0 < share < 1 and size(minus(nodes[node], foot)) <= tolerance_mm:
                return other
    for other in range(number):
        if node in lines[other]:
            return other
    return None
