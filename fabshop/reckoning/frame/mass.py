"""Mass and centre of mass of a finished tube, its copes cut out of it."""

from __future__ import annotations

from dataclasses import dataclass
from math import atan2, cos, degrees, pi, sin

from fabshop.reckoning.frame.axis import Arc, Axis, Straight, centre_of_arc
from fabshop.reckoning.frame.landing import Landing, skin_reach_mm
from fabshop.reckoning.frame.vector import Vector, cross, dot, plus, times, unit

_ROUND = 72
# Gauss-Legendre with four points is exact to degree seven across the wall.
_ACROSS = (
    (-0.8611363115940526, 0.3478548451374538),
    (-0.3399810435848563, 0.6521451548625461),
    (0.3399810435848563, 0.6521451548625461),
    (0.8611363115940526, 0.3478548451374538),
)


@dataclass(frozen=True)
class Solid:
    """A volume in mm3 and its first moment about the origin."""

    volume_mm3: float = 0.0
    moment: Vector = (0.0, 0.0, 0.0)

    def __add__(self, other: Solid) -> Solid:
        return Solid(
            self.volume_mm3 + other.volume_mm3, plus(self.moment, other.moment)
        )

    @property
    def centre(self) -> Vector:
        return times(self.moment, 1 / self.volume_mm3)


@dataclass(frozen=True)
class Mouth:
    """How an end is cut: on a main of `main_mm`, or square `past_mm` beyond it."""

    landed: Landing | None = None
    main_mm: float = 0.0
    past_mm: float = 0.0


def solid_of(
    axis: Axis, od_mm: float, wall_mm: float, mouths: tuple[Mouth, Mouth]
) -> Solid:
    """The metal of a tube along `axis`, cut at both ends as `mouths` say."""
    pieces = axis.pieces
    total = Solid()
    for piece in pieces:
        if isinstance(piece, Arc):
            total += _bend(piece, od_mm, wall_mm)
        else:
            first = mouths[0] if piece is axis.first else None
            last = mouths[1] if piece is axis.last else None
            total += _straight(piece, od_mm, wall_mm, first, last)
    return total


def _bend(arc: Arc, od_mm: float, wall_mm: float) -> Solid:
    outer, inner = od_mm / 2, od_mm / 2 - wall_mm
    # Pappus: a section carried round sweeps its area times its middle's way.
    volume = pi * (outer**2 - inner**2) * arc.length_mm
    return Solid(volume, times(centre_of_arc(arc, outer, inner), volume))


def _straight(
    piece: Straight,
    od_mm: float,
    wall_mm: float,
    first: Mouth | None,
    last: Mouth | None,
) -> Solid:
    """Summed over fine threads of metal along the tube, each as long as it is cut."""
    outer = od_mm / 2
    side = _square_to(piece.along)
    other = cross(piece.along, side)
    total = Solid()
    for place, weight in _ACROSS:
        radius = outer - wall_mm / 2 + place * wall_mm / 2
        area = weight * wall_mm / 2 * radius * 2 * pi / _ROUND
        for number in range(_ROUND):
            turn = 2 * pi * number / _ROUND
            out = plus(times(side, cos(turn)), times(other, sin(turn)))
            low = _from(first, out, radius) if first else 0.0
            high = piece.length_mm - (_from(last, out, radius) if last else 0.0)
            middle = plus(
                plus(piece.start, times(piece.along, (low + high) / 2)),
                times(out, radius),
            )
            volume = area * (high - low)
            total += Solid(volume, times(middle, volume))
    return total


def _from(mouth: Mouth, out: Vector, radius: float) -> float:
    """Where a thread of the tube begins, counted from the crossing at that end."""
    if mouth.landed is None:
        return -mouth.past_mm
    landed = mouth.landed
    at = degrees(atan2(dot(out, landed.towards_90), dot(out, landed.acute)))
    return skin_reach_mm(landed, at, 2 * radius, mouth.main_mm)


def _square_to(along: Vector) -> Vector:
    least = min(range(3), key=lambda axis: abs(along[axis]))
    pick: Vector = (
        1.0 if least == 0 else 0.0,
        1.0 if least == 1 else 0.0,
        1.0 if least == 2 else 0.0,
    )
    return unit(cross(along, pick))
