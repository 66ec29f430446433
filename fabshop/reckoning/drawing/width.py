"""How wide a closed outline is at its narrowest, and how big the whole is."""

from __future__ import annotations

from collections.abc import Iterable
from math import floor, hypot, pi

from fabshop.reckoning.drawing.edge import Point, Vertex, bulge_arc

Box = tuple[float, float, float, float]


def box(points: Iterable[Point]) -> Box:
    """The least and the greatest x and y: x0, y0, x1, y1."""
    every = list(points)
    xs, ys = [p[0] for p in every], [p[1] for p in every]
    return (min(xs), min(ys), max(xs), max(ys))


def extent(paths: Iterable[tuple[Vertex, ...]]) -> Box:
    """As `box`, of paths with their arcs, exactly: also where an arc stands out."""
    points: list[Point] = []
    for path in paths:
        points.extend((x, y) for x, y, _ in path)
        for here, there in zip(path, path[1:], strict=False):
            if not here[2] or here[:2] == there[:2]:
                continue
            (x, y), radius, start, sweep = bulge_arc(here, there)
            low, high = sorted((start, start + sweep))
            for n in range(floor(low / (pi / 2)) + 1, floor(high / (pi / 2)) + 1):
                dx, dy = ((1, 0), (0, 1), (-1, 0), (0, -1))[n % 4]
                points.append((x + radius * dx, y + radius * dy))
    return box(points) if points else (0.0, 0.0, 0.0, 0.0)


def hull(points: Iterable[Point]) -> list[Point]:
    """The convex hull against the clock (Andrew's monotone chain)."""
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return ordered

    def half(way: Iterable[Point]) -> list[Point]:
        chain: list[Point] = []
        for p in way:
            while len(chain) > 1 and _turn(chain[-2], chain[-1], p) <= 0:
                chain.pop()
            chain.append(p)
        return chain[:-1]

    return half(ordered) + half(reversed(ordered))


def narrowest(points: Iterable[Point]) -> float:
    """The least width between two parallel lines: of a slot what fits through it.

    It is reached along a side of the hull (Freeman and Shapira 1975).
    """
    corners = hull(points)
    if len(corners) < 3:
        return 0.0
    least = float("inf")
    far = 1
    count = len(corners)
    for n in range(count):
        a, b = corners[n], corners[(n + 1) % count]
        side = hypot(b[0] - a[0], b[1] - a[1])
        while _turn(a, b, corners[(far + 1) % count]) > _turn(a, b, corners[far]):
            far = (far + 1) % count
        least = min(least, _turn(a, b, corners[far]) / side)
    return least


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
