"""Vectors of three lengths or cosines, as plain tuples; the core carries no numpy."""

from __future__ import annotations

from math import acos, atan2, cos, degrees, radians, sin, sqrt

Vector = tuple[float, float, float]


def plus(a: Vector, b: Vector) -> Vector:
    return (a[0] + b[0], a[1] + b[1], a[2] + b[2])


def minus(a: Vector, b: Vector) -> Vector:
    return (a[0] - b[0], a[1] - b[1], a[2] - b[2])


def times(a: Vector, factor: float) -> Vector:
    return (a[0] * factor, a[1] * factor, a[2] * factor)


def dot(a: Vector, b: Vector) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def cross(a: Vector, b: Vector) -> Vector:
    return (
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    )


def size(a: Vector) -> float:
    return sqrt(dot(a, a))


def unit(a: Vector) -> Vector:
    """`a` at length one; a vector without length has no direction."""
    length = size(a)
    if length == 0:
        raise ValueError("a vector without length has no direction")
    return times(a, 1 / length)


def between_deg(a: Vector, b: Vector) -> float:
    """The angle between two directions, 0 to 180 degrees."""
    return degrees(atan2(size(cross(a, b)), dot(a, b)))


def turn_deg(start: Vector, end: Vector, about: Vector) -> float:
    """How far `start` turns to `end`, right-handed about the unit vector `about`."""
    return degrees(atan2(dot(cross(start, end), about), dot(start, end)))


def turned(a: Vector, about: Vector, angle_deg: float) -> Vector:
    """`a` turned right-handed about the unit vector `about` (Rodrigues' formula)."""
    angle = radians(angle_deg)
    along = times(about, dot(about, a) * (1 - cos(angle)))
    return plus(plus(times(a, cos(angle)), times(cross(about, a), sin(angle))), along)


def across(a: Vector, along: Vector) -> Vector:
    """What of `a` lies square to the unit vector `along`."""
    return minus(a, times(along, dot(a, along)))


def acos_deg(cosine: float) -> float:
    return degrees(acos(max(-1.0, min(1.0, cosine))))
