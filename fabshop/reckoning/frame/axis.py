"""The centreline of a tube as straights and arcs, and what is carried along it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import radians, sin, tan

from fabshop.reckoning.frame.vector import (
    Vector,
    between_deg,
    cross,
    minus,
    plus,
    size,
    times,
    turn_deg,
    turned,
    unit,
)

# Closer to straight than this, a bend is none and has no plane.
_STRAIGHT_DEG = 1e-6


class NoAxis(ValueError):
    """The points and radii make no centreline; the text says why."""


@dataclass(frozen=True)
class Straight:
    start: Vector
    along: Vector
    length_mm: float

    @property
    def end(self) -> Vector:
        return plus(self.start, times(self.along, self.length_mm))


@dataclass(frozen=True)
class Arc:
    """A bend: `normal` is the axis it turns about, right-handed, by `angle_deg`.

    `plane_deg` is how far its plane is turned from the bend before, about the tube
    as it runs there; 0 for the first.
    """

    start: Vector
    along: Vector
    normal: Vector
    radius_mm: float
    angle_deg: float
    plane_deg: float

    @property
    def length_mm(self) -> float:
        """Radius times angle: the arc on the centreline (arc length of a circle)."""
        return self.radius_mm * radians(self.angle_deg)

    @property
    def centre(self) -> Vector:
        return plus(self.start, times(cross(self.normal, self.along), self.radius_mm))

    def at(self, angle_deg: float) -> Vector:
        out = turned(minus(self.start, self.centre), self.normal, angle_deg)
        return plus(self.centre, out)


@dataclass(frozen=True)
class Axis:
    """The centreline from one end to the other: straight, arc, straight, ..."""

    pieces: tuple[Straight | Arc, ...]

    @property
    def straights(self) -> tuple[Straight, ...]:
        return tuple(piece for piece in self.pieces if isinstance(piece, Straight))

    @property
    def arcs(self) -> tuple[Arc, ...]:
        return tuple(piece for piece in self.pieces if isinstance(piece, Arc))

    @property
    def first(self) -> Straight:
        return self.straights[0]

    @property
    def last(self) -> Straight:
        return self.straights[-1]

    @property
    def developed_mm(self) -> float:
        """Length of the straight tube that it is bent from, arcs on the centreline."""
        return sum(piece.length_mm for piece in self.pieces)

    def carried(self, mark: Vector) -> Vector:
        """A mark square to the first straight, carried to the last without twisting.

        It is where a line scribed along the tube before bending ends up.
        """
        for arc in self.arcs:
            mark = turned(mark, arc.normal, arc.angle_deg)
        return mark

    def carried_back(self, mark: Vector) -> Vector:
        for arc in reversed(self.arcs):
            mark = turned(mark, arc.normal, -arc.angle_deg)
        return mark


def axis_through(points: Sequence[Vector], radii: Sequence[float]) -> Axis:
    """The centreline through `points`, bent at the inner ones to their `radii`.

    The straights would meet at the points; each arc takes radius × tan(angle / 2)
    from the straight on either side. NoAxis where that is more than there is.
    """
    ways = [minus(b, a) for a, b in zip(points, points[1:], strict=False)]
    if any(size(way) < 1e-9 for way in ways):
        raise NoAxis("two of its points are one and the same")
    alongs = [unit(way) for way in ways]
    takes = [0.0]
    for number, radius in enumerate(radii):
        angle = between_deg(alongs[number], alongs[number + 1])
        if angle > 179:
            raise NoAxis("a bend turns it back on itself")
        takes.append(radius * tan(radians(angle) / 2))
    takes.append(0.0)
    pieces: list[Straight | Arc] = []
    plane: Vector | None = None
    for number, along in enumerate(alongs):
        left = size(ways[number]) - takes[number] - takes[number + 1]
        if left < -1e-9:
            raise NoAxis(
                f"straight {number + 1} is {size(ways[number]):.1f} mm and its bends "
                f"take {takes[number] + takes[number + 1]:.1f}"
            )
        start = plus(points[number], times(along, takes[number]))
        straight = Straight(start, along, max(0.0, left))
        pieces.append(straight)
        if number + 1 < len(alongs):
            angle = between_deg(along, alongs[number + 1])
            if angle < _STRAIGHT_DEG:
                continue
            normal = unit(cross(along, alongs[number + 1]))
            turn = turn_deg(plane, normal, along) if plane else 0.0
            pieces.append(Arc(straight.end, along, normal, radii[number], angle, turn))
            plane = normal
    return Axis(tuple(pieces))


def bent(
    straights_mm: Sequence[float], bends: Sequence[tuple[float, float, float]]
) -> Axis:
    """The centreline from a bending list: straights, and (radius, angle, plane) each.

    It begins at the origin along x, its first bend turns about z; `plane` turns the
    next bend about the tube. The reverse of what `axis_through` says of its arcs.
    """
    at: Vector = (0.0, 0.0, 0.0)
    along: Vector = (1.0, 0.0, 0.0)
    normal: Vector = (0.0, 0.0, 1.0)
    pieces: list[Straight | Arc] = []
    for number, length in enumerate(straights_mm):
        straight = Straight(at, along, length)
        pieces.append(straight)
        at = straight.end
        if number < len(bends):
            radius, angle, plane = bends[number]
            normal = turned(normal, along, plane)
            arc = Arc(at, along, normal, radius, angle, plane)
            pieces.append(arc)
            at, along = arc.at(angle), turned(along, normal, angle)
    return Axis(tuple(pieces))


def centre_of_arc(arc: Arc, outer_mm: float, inner_mm: float) -> Vector:
    """Centre of mass of a bent piece of tube with these radii.

    The tube's middle lies a little outside the centreline, because there is more
    metal on the outside of a bend: R + (a² + b²) / 4R (moments of a ring section).
    """
    half = radians(arc.angle_deg) / 2
    mean = arc.radius_mm + (outer_mm**2 + inner_mm**2) / (4 * arc.radius_mm)
    out = turned(unit(minus(arc.start, arc.centre)), arc.normal, arc.angle_deg / 2)
    return plus(arc.centre, times(out, mean * sin(half) / half))


def drawn(axis: Axis, step_deg: float = 10.0) -> list[Vector]:
    """Points along the centreline, close enough on the arcs to be drawn."""
    points = [axis.first.start]
    for piece in axis.pieces:
        if isinstance(piece, Straight):
            points.append(piece.end)
        else:
            count = max(1, round(piece.angle_deg / step_deg))
            points += [
                piece.at(piece.angle_deg * number / count)
                for number in range(1, count + 1)
            ]
    return points
