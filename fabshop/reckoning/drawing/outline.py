"""Edges joined end to end; what does not close says where, and by how much."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import floor, hypot

from fabshop.reckoning.drawing.edge import Edge, Point, Vertex, cross

# Ends nearer than this are one; common practice of who cuts from drawings.
JOIN_MM = 0.02


@dataclass(frozen=True, slots=True)
class Outline:
    """A chain of edges; `area` is as enclosed, in mm², 0 where it is open."""

    vertices: tuple[Vertex, ...]
    length: float
    area: float
    closed: bool

    @property
    def start(self) -> Point:
        return self.vertices[0][:2]

    @property
    def end(self) -> Point:
        return self.vertices[-1][:2]


@dataclass(frozen=True, slots=True)
class Gap:
    """Two loose ends, and how far they are apart; `there` None: it ends alone."""

    here: Point
    there: Point | None
    mm: float


@dataclass(frozen=True, slots=True)
class Joined:
    """`crossings` are places where more than two ends meet; `twice` drawn twice."""

    outlines: tuple[Outline, ...]
    gaps: tuple[Gap, ...]
    crossings: tuple[Point, ...]
    twice: int


def joined(edges: Iterable[Edge], within: float = JOIN_MM) -> Joined:
    """Join the edges; nothing is bridged that is further apart than `within`."""
    single, twice = _once(edges, within)
    node_of = _nodes(single, within)
    ends: dict[int, list[tuple[int, int]]] = defaultdict(list)
    for number, _ in enumerate(single):
        ends[node_of[number][0]].append((number, 0))
        ends[node_of[number][1]].append((number, 1))
    crossings = [node for node, met in ends.items() if len(met) > 2]
    outlines = _walked(single, node_of, ends)
    places = {}
    for node in crossings:
        number, side = ends[node][0]
        places[node] = single[number].end if side else single[number].start
    return Joined(tuple(outlines), tuple(gaps(outlines)), tuple(places.values()), twice)


def gaps(outlines: Sequence[Outline]) -> list[Gap]:
    """The loose ends of what is open, each pair told once, the smallest gap first."""
    loose = [p for o in outlines if not o.closed for p in (o.start, o.end)]
    if len(loose) > 400:
        # Past this nobody reads them; the first tell what is wrong.
        loose = loose[:400]
    pairs = sorted(
        (hypot(a[0] - b[0], a[1] - b[1]), n, m)
        for n, a in enumerate(loose)
        for m, b in enumerate(loose)
        if n < m
    )
    found, taken = [], set[int]()
    for mm, n, m in pairs:
        if n not in taken and m not in taken:
            taken |= {n, m}
            found.append(Gap(loose[n], loose[m], mm))
    return found


def _once(edges: Iterable[Edge], within: float) -> tuple[list[Edge], int]:
    """The edges without those that lie exactly on another, and how many these were."""
    seen: set[tuple[object, ...]] = set()
    single: list[Edge] = []
    twice = 0
    for edge in edges:
        if edge.length <= within / 10:
            continue
        ends = sorted((_rounded(edge.start), _rounded(edge.end)))
        middle = edge.vertices[len(edge.vertices) // 2]
        key = (*ends, round(edge.length, 3), round(abs(middle[2]), 4))
        if len(edge.vertices) > 2:
            key = (*key, *_rounded(middle[:2]))
        elif middle[2] or edge.vertices[0][2]:
            # Two arcs between the same ends bend to either side.
            key = (*key, round(edge.area, 3) if ends[0] == ends[1] else _side(edge))
        if key in seen:
            twice += 1
            continue
        seen.add(key)
        single.append(edge)
    return single, twice


def _side(edge: Edge) -> float:
    """Which side of its chord a bent edge lies on, whichever way it is walked."""
    bulge = edge.vertices[0][2]
    forward = _rounded(edge.start) <= _rounded(edge.end)
    return 1.0 if (bulge > 0) == forward else -1.0


def _rounded(point: Point) -> Point:
    return (round(point[0], 3), round(point[1], 3))


def _nodes(edges: list[Edge], within: float) -> list[tuple[int, int]]:
    """For each edge the numbers of the places where it begins and ends."""
    cells: dict[tuple[int, int], list[tuple[Point, int]]] = defaultdict(list)
    count = 0

    def node(point: Point) -> int:
        nonlocal count
        column, row = floor(point[0] / within), floor(point[1] / within)
        best, nearest = -1, within
        for i in (column - 1, column, column + 1):
            for j in (row - 1, row, row + 1):
                for other, number in cells.get((i, j), ()):
                    apart = hypot(point[0] - other[0], point[1] - other[1])
                    if apart <= nearest:
                        best, nearest = number, apart
        if best < 0:
            best, count = count, count + 1
            cells[column, row].append((point, best))
        return best

    return [(node(edge.start), node(edge.end)) for edge in edges]


def _walked(
    edges: list[Edge],
    node_of: list[tuple[int, int]],
    ends: dict[int, list[tuple[int, int]]],
) -> list[Outline]:
    """Every edge in one chain: open ones from their loose ends, then the rounds."""
    left = set(range(len(edges)))
    loose = [number for node, met in ends.items() if len(met) == 1 for number, _ in met]
    outlines = []
    for first in [*loose, *range(len(edges))]:
        if first not in left:
            continue
        begin, end = node_of[first]
        turned = len(ends[end]) == 1 and len(ends[begin]) != 1
        chain = [edges[first].reversed() if turned else edges[first]]
        start, node = (end, begin) if turned else (begin, end)
        left.discard(first)
        while node != start:
            onward = next((e for e in ends[node] if e[0] in left), None)
            if onward is None:
                break
            number, side = onward
            left.discard(number)
            chain.append(edges[number].reversed() if side else edges[number])
            node = node_of[number][0 if side else 1]
        outlines.append(_outline(chain, node == start))
    return outlines


def _outline(chain: list[Edge], closed: bool) -> Outline:
    vertices: list[Vertex] = []
    area = 0.0
    for edge in chain:
        if vertices:
            # The hair's breadth between two ends that count as one.
            area += cross(vertices[-1], edge.start) / 2
            vertices.pop()
        vertices.extend(edge.vertices)
        area += edge.area
    area += cross(vertices[-1], vertices[0]) / 2
    return Outline(
        tuple(vertices),
        sum(edge.length for edge in chain),
        abs(area) if closed else 0.0,
        closed,
    )
