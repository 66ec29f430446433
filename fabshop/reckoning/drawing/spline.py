"""A B-spline, rational or not, as an edge: sampled for drawing, measured by Gauss."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from math import hypot

from fabshop.reckoning.drawing.edge import GAUSS, Edge, Point, Vertex

Homogeneous = tuple[float, float, float]
# Each knot span is drawn in so many chords and measured in as many stretches, fewer
# where a drawing has many: they are the shorter then.
A_SPAN = 24
IN_ALL = 3000


class Spline:
    """Degree, knots, control points and weights, as the file says them."""

    def __init__(
        self,
        degree: int,
        knots: Sequence[float],
        points: Sequence[Point],
        weights: Sequence[float] = (),
    ) -> None:
        if degree < 1 or len(knots) != len(points) + degree + 1:
            raise ValueError("the knots do not go with the points")
        if any(
            later < earlier for earlier, later in zip(knots, knots[1:], strict=False)
        ):
            raise ValueError("the knots run backwards")
        by_weight = list(weights) or [1.0] * len(points)
        if len(by_weight) != len(points) or min(by_weight) <= 0:
            raise ValueError("the weights do not go with the points")
        self.degree = degree
        self.knots = list(knots)
        self.control: list[Homogeneous] = [
            (x * w, y * w, w) for (x, y), w in zip(points, by_weight, strict=True)
        ]
        # The curve whose value is the derivative: one degree less.
        self.slopes: list[Homogeneous] = []
        for n in range(len(points) - 1):
            width = knots[n + degree + 1] - knots[n + 1]
            by = degree / width if width else 0.0
            here, there = self.control[n], self.control[n + 1]
            self.slopes.append(
                (
                    (there[0] - here[0]) * by,
                    (there[1] - here[1]) * by,
                    (there[2] - here[2]) * by,
                )
            )

    def at(self, t: float) -> Point:
        x, y, w = _de_boor(self.degree, self.knots, self.control, t)
        return (x / w, y / w)

    def slope(self, t: float) -> Point:
        x, y, w = _de_boor(self.degree, self.knots, self.control, t)
        if self.degree == 1:
            span = _span(self.degree, self.knots, len(self.control), t)
            dx, dy, dw = self.slopes[span - 1]
        else:
            dx, dy, dw = _de_boor(self.degree - 1, self.knots[1:-1], self.slopes, t)
        return ((dx - x / w * dw) / w, (dy - y / w * dw) / w)

    def edge(self, layer: str = "", among: int = 1) -> Edge:
        """Sampled at every knot and between; length and area by Gauss's rule.

        `among` is how many points all splines of the drawing have together.
        """
        first, last = self.knots[self.degree], self.knots[-self.degree - 1]
        spans = sorted({k for k in self.knots if first <= k <= last})
        length = area = 0.0
        a_span = max(1, min(A_SPAN, IN_ALL // max(1, among, len(spans) - 1)))
        vertices: list[Vertex] = [(*self.at(first), 0.0)]
        for begin, end in zip(spans, spans[1:], strict=False):
            step = (end - begin) / a_span
            for number in range(a_span):
                base = begin + number * step
                for place, weight in GAUSS:
                    t = base + place * step
                    (x, y), (dx, dy) = self.at(t), self.slope(t)
                    length += weight * step * hypot(dx, dy)
                    area += weight * step * (x * dy - y * dx) / 2
                vertices.append((*self.at(base + step), 0.0))
        return Edge(tuple(vertices), length, area, layer)


def _span(degree: int, knots: list[float], points: int, t: float) -> int:
    return min(max(bisect_right(knots, t) - 1, degree), points - 1)


def _de_boor(
    degree: int, knots: list[float], control: list[Homogeneous], t: float
) -> Homogeneous:
    """De Boor's recursion: the value of a spline at `t` (C. de Boor 1972)."""
    span = _span(degree, knots, len(control), t)
    d = [control[n + span - degree] for n in range(degree + 1)]
    for level in range(1, degree + 1):
        for n in range(degree, level - 1, -1):
            low = knots[n + span - degree]
            width = knots[n + 1 + span - level] - low
            a = (t - low) / width if width else 0.0
            p, q = d[n - 1], d[n]
            d[n] = (
                p[0] + (q[0] - p[0]) * a,
                p[1] + (q[1] - p[1]) * a,
                p[2] + (q[2] - p[2]) * a,
            )
    return d[degree]
