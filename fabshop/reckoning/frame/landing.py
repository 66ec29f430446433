"""One end of a tube on the tube it lands on: angle, offset, and the lines round it."""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, radians, sin

from fabshop.reckoning.cope import cope, reach_mm
from fabshop.reckoning.frame.axis import Axis, Straight
from fabshop.reckoning.frame.vector import (
    Vector,
    acos_deg,
    across,
    cross,
    dot,
    minus,
    plus,
    size,
    times,
    unit,
)
from fabshop.reckoning.questions.cope import Branch, CopeQuestion, Main

# Closer to square than this, both sides of a cope are alike and none is acute.
SQUARE_DEG = 0.005
# Below this the acute side runs out into a feather edge (screens, 4.6).
FEATHER_DEG = 20.0
# A node lies on a tube when it is no farther from its centreline than this.
ON_AXIS_MM = 0.5


@dataclass(frozen=True)
class Landing:
    """Where and how one tube's end meets another; lengths count from `crossing`.

    `along` points from the crossing into the tube; `acute` is square to it, on the
    side where the two centrelines close in on one another: 0 of the `at` scale.
    """

    crossing: Vector
    along: Vector
    acute: Vector
    main_along: Vector
    angle_deg: float
    offset_mm: float

    @property
    def is_square(self) -> bool:
        return abs(90 - self.angle_deg) < SQUARE_DEG

    @property
    def dial_deg(self) -> float:
        return 90 - self.angle_deg

    @property
    def towards_90(self) -> Vector:
        """The 90 mark: counterclockwise as seen from the branch's other end."""
        return cross(self.along, self.acute)

    def turned_over(self) -> Landing:
        """The same landing counted from the opposite side; only where it is square."""
        return Landing(
            self.crossing,
            self.along,
            times(self.acute, -1),
            times(self.main_along, -1),
            self.angle_deg,
            -self.offset_mm,
        )


def landing(
    node: Vector, along: Vector, main: Straight, offset_mm: float
) -> Landing | None:
    """How a tube that leaves `node` along `along` meets the straight `main`.

    The crossing is the point of the tube's centreline that is nearest to the main's,
    `offset_mm` from it towards the tube's own 90 mark. None where they are parallel.
    Where the tubes stand square, 0 lies on the side that the main runs to.
    """
    toward = main.along
    cosine = dot(along, toward)
    if cosine < -sin(radians(SQUARE_DEG)):
        toward, cosine = times(toward, -1), -cosine
    side = across(toward, along)
    if size(side) < 1e-4:
        return None
    acute = unit(side)
    foot = plus(main.start, times(main.along, dot(minus(node, main.start), main.along)))
    crossing = plus(foot, times(cross(along, acute), offset_mm))
    angle = acos_deg(abs(cosine)) if cosine < 0.999 else _small(along, toward)
    return Landing(crossing, along, acute, toward, angle, offset_mm)


def _small(a: Vector, b: Vector) -> float:
    """Arc cosine loses digits near 0 degrees; the sine does not."""
    return 90 - acos_deg(size(cross(a, b)))


def off_axis_mm(node: Vector, main: Straight) -> float:
    """How far a node lies from the centreline that it should be on."""
    return size(across(minus(node, main.start), main.along))


def straight_at(node: Vector, axis: Axis) -> Straight | None:
    """The straight of a tube that `node` lies on; None where that is a bend or none."""
    best: tuple[float, Straight] | None = None
    for number, straight in enumerate(axis.straights):
        along = dot(minus(node, straight.start), straight.along)
        before = ON_AXIS_MM if number else float("inf")
        is_last = straight is axis.last
        after = float("inf") if is_last else straight.length_mm + ON_AXIS_MM
        if -before <= along <= after:
            off = off_axis_mm(node, straight)
            if best is None or off < best[0]:
                best = (off, straight)
    return best[1] if best else None


@dataclass(frozen=True)
class Coped:
    """The cope of an end, lengths along the tube from the crossing."""

    longest_mm: float
    shortest_mm: float
    before_mm: float
    after_mm: float

    @property
    def depth_mm(self) -> float:
        return self.longest_mm - self.shortest_mm


def coped(landed: Landing, od_mm: float, wall_mm: float, main_mm: float) -> Coped:
    """Longest and shortest reach, and how far along the main the saddle lies.

    `before_mm` and `after_mm` are measured from the crossing along `main_along`,
    the acute side last. The branch must not run off the main's side.
    """
    answer = cope(
        CopeQuestion(
            Branch(od_mm, wall_mm), Main(main_mm), landed.angle_deg, landed.offset_mm
        )
    )
    angle = radians(landed.angle_deg)
    places = []
    for at in range(360):
        reach = skin_reach_mm(landed, at, od_mm, main_mm)
        places.append(reach * cos(angle) + od_mm / 2 * cos(radians(at)) * sin(angle))
    return Coped(answer["longest"], answer["shortest"], -min(places), max(places))


def skin_reach_mm(
    landed: Landing, at_deg: float, skin_od_mm: float, main_mm: float
) -> float:
    return reach_mm(
        at_deg,
        skin_mm=skin_od_mm / 2,
        main_mm=main_mm / 2,
        angle_deg=landed.angle_deg,
        offset_mm=landed.offset_mm,
    )
