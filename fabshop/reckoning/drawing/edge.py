"""One stretch of a drawing between two ends, with its length and its share of area."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan, atan2, cos, hypot, pi, sin, sqrt, tan

Point = tuple[float, float]
# x, y in mm and the bulge to the next vertex: tan of a quarter of the arc's angle,
# positive to the left, 0 for a straight stretch. The last one's bulge says nothing.
Vertex = tuple[float, float, float]

# Five-point rule of Gauss and Legendre on 0 to 1: (place, weight).
GAUSS = (
    (0.046910077030668, 0.118463442528095),
    (0.230765344947158, 0.239314335249683),
    (0.5, 0.284444444444444),
    (0.769234655052841, 0.239314335249683),
    (0.953089922969332, 0.118463442528095),
)


@dataclass(frozen=True, slots=True)
class Edge:
    """`area` is half the integral of x dy - y dx along it, in mm²; it has a sign."""

    vertices: tuple[Vertex, ...]
    length: float
    area: float
    layer: str = ""

    @property
    def start(self) -> Point:
        return self.vertices[0][:2]

    @property
    def end(self) -> Point:
        return self.vertices[-1][:2]

    def reversed(self) -> Edge:
        """The same stretch walked from its end to its start."""
        back = self.vertices[::-1]
        bulges = [-vertex[2] for vertex in self.vertices[-2::-1]]
        turned = tuple(
            (vertex[0], vertex[1], bulge)
            for vertex, bulge in zip(back, [*bulges, 0.0], strict=True)
        )
        return Edge(turned, self.length, -self.area, self.layer)


def polyline(vertices: list[Vertex], layer: str = "") -> Edge:
    """Straight stretches and arcs, one after another; length and area are exact."""
    length = area = 0.0
    for here, there in zip(vertices, vertices[1:], strict=False):
        length += _length(here, there)
        area += cross(here, there) / 2 + _bulged(here, there)
    return Edge(tuple(vertices), length, area, layer)


def line(start: Point, end: Point, layer: str = "") -> Edge:
    return polyline([(*start, 0.0), (*end, 0.0)], layer)


def arc(
    centre: Point, radius: float, start_rad: float, sweep_rad: float, layer: str = ""
) -> Edge:
    """An arc from `start_rad` by `sweep_rad`, positive against the clock.

    It is cut into halves at the most half round, which is what a bulge can say.
    """
    pieces = 2 if abs(sweep_rad) > pi * 0.99 else 1
    bulge = tan(sweep_rad / pieces / 4)
    vertices: list[Vertex] = []
    for number in range(pieces + 1):
        angle = start_rad + sweep_rad * number / pieces
        at = (centre[0] + radius * cos(angle), centre[1] + radius * sin(angle))
        vertices.append((*at, bulge if number < pieces else 0.0))
    if abs(abs(sweep_rad) - 2 * pi) < 1e-12:
        vertices[-1] = (vertices[0][0], vertices[0][1], 0.0)
    return polyline(vertices, layer)


def ellipse(
    centre: Point, major: Point, ratio: float, start: float, end: float, layer: str = ""
) -> Edge:
    """Part of an ellipse by its parameter, `major` being half of its longer axis.

    Its area is exact, its length by Gauss's rule over many short stretches.
    """
    minor = (-major[1] * ratio, major[0] * ratio)
    stretches = max(8, int(96 * abs(end - start) / (2 * pi)) + 1)
    step = (end - start) / stretches

    def at(t: float) -> Point:
        return (
            centre[0] + major[0] * cos(t) + minor[0] * sin(t),
            centre[1] + major[1] * cos(t) + minor[1] * sin(t),
        )

    def speed(t: float) -> float:
        return hypot(
            -major[0] * sin(t) + minor[0] * cos(t),
            -major[1] * sin(t) + minor[1] * cos(t),
        )

    vertices = [(*at(start + step * n), 0.0) for n in range(stretches + 1)]
    if abs(abs(end - start) - 2 * pi) < 1e-9:
        vertices[-1] = vertices[0]
    length = sum(
        abs(step) * weight * speed(start + step * (n + place))
        for n in range(stretches)
        for place, weight in GAUSS
    )
    first, last = vertices[0], vertices[-1]
    about_centre = (end - start) * ratio * (major[0] ** 2 + major[1] ** 2) / 2
    moved = (centre[0] * (last[1] - first[1]) - centre[1] * (last[0] - first[0])) / 2
    return Edge(tuple(vertices), length, about_centre + moved, layer)


def cross(here: Vertex | Point, there: Vertex | Point) -> float:
    return here[0] * there[1] - here[1] * there[0]


def bulge_arc(here: Vertex, there: Vertex) -> tuple[Point, float, float, float]:
    """Centre, radius, start angle and sweep of the arc between two vertices."""
    sweep = 4 * atan(here[2])
    chord = hypot(there[0] - here[0], there[1] - here[1])
    radius = chord / 2 / sin(abs(sweep) / 2)
    # From the middle of the chord to the centre, on its left for a small left arc.
    height = (1 - here[2] ** 2) / (4 * here[2])
    centre = (
        (here[0] + there[0]) / 2 - height * (there[1] - here[1]),
        (here[1] + there[1]) / 2 + height * (there[0] - here[0]),
    )
    start = atan2(here[1] - centre[1], here[0] - centre[0])
    return centre, radius, start, sweep


def flat(vertices: tuple[Vertex, ...], sagitta: float = 0.01) -> list[Point]:
    """The vertices with arcs drawn as chords that leave them by at most `sagitta`."""
    points: list[Point] = []
    for here, there in zip(vertices, vertices[1:], strict=False):
        points.append(here[:2])
        if here[2] and here[:2] != there[:2]:
            centre, radius, start, sweep = bulge_arc(here, there)
            # 1 - cos(a / 2) = sagitta / radius, for small angles a² / 8.
            most = sqrt(8 * sagitta / radius) if radius > sagitta else pi / 2
            count = min(720, max(2, int(abs(sweep) / most) + 1))
            for number in range(1, count):
                angle = start + sweep * number / count
                points.append(
                    (centre[0] + radius * cos(angle), centre[1] + radius * sin(angle))
                )
    points.append(vertices[-1][:2])
    return points


def _length(here: Vertex, there: Vertex) -> float:
    chord = hypot(there[0] - here[0], there[1] - here[1])
    if not here[2] or not chord:
        return chord
    half = 2 * atan(abs(here[2]))
    return chord * half / sin(half)


def _bulged(here: Vertex, there: Vertex) -> float:
    """The segment between a chord and its arc; positive where it lies to the right."""
    chord = hypot(there[0] - here[0], there[1] - here[1])
    if not here[2] or not chord:
        return 0.0
    sweep = 4 * atan(abs(here[2]))
    radius = chord / 2 / sin(sweep / 2)
    segment = radius**2 * (sweep - sin(sweep)) / 2
    return segment if here[2] > 0 else -segment
