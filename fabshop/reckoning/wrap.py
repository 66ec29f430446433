"""A cope unrolled: the lines of a template that is wrapped round the tube.

Drawn with the print side out. The kept tube lies above the lower strip and below the
upper one, so a sheet of both stands like the tube itself: its first end at the foot,
its other end at the head, and one clocking line straight through both.

On the lower strip the `at` scale runs to the right: seen from outside, with the tube's
other end up, that is counterclockwise as seen from that other end. The upper strip is
the same turn round the same tube, so its own scale runs to the left.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from fabshop.reckoning.cope import cope, reach_mm
from fabshop.reckoning.questions.cope import Branch, CopeQuestion, Main

# Office paper of 80 g/m2 is about a tenth of a millimetre (common practice).
PAPER_MM = 0.10
FOLD_MM = 8.0
KEEP_MM = 12.0
WASTE_MM = 6.0
STEP_DEG = 1


@dataclass(frozen=True)
class CopeEnd:
    """One end of a tube, as its cope is cut; `mate` and `joint` are what it is called.

    `angle_deg` lies between the centrelines, 0 to 90.
    """

    onto_mm: float
    angle_deg: float
    offset_mm: float = 0.0
    mate: str = ""
    joint: str = ""
    node: str = ""

    @property
    def dial_deg(self) -> float:
        return 90 - self.angle_deg


@dataclass(frozen=True)
class Template:
    """Both ends of a tube, or one; the twist is where the other's acute line lies."""

    od_mm: float
    wall_mm: float
    ends: tuple[CopeEnd, ...]
    twist_deg: float = 0.0
    paper_mm: float = PAPER_MM

    @property
    def wrap_mm(self) -> float:
        """Once round the tube along the middle of the paper."""
        return pi * (self.od_mm + self.paper_mm)

    def x_mm(self, turn_deg: float) -> float:
        """Where a turn from the clocking line, -180 to 180, lies on the paper."""
        return (turn_deg + 180) / 360 * self.wrap_mm


@dataclass(frozen=True)
class Strip:
    """One end unrolled: y counts from the crossing of the centrelines into the tube.

    `is_upper` is the tube's other end, whose kept side lies below its line.
    """

    template: Template
    end: CopeEnd
    is_upper: bool
    longest_mm: float
    shortest_mm: float

    def at_deg(self, turn_deg: float) -> float:
        """This end's own scale at a turn from the clocking line."""
        if self.is_upper:
            return self.template.twist_deg - turn_deg
        return turn_deg

    def turn_deg(self, at_deg: float) -> float:
        """The reverse of `at_deg`, from -180 up to but not 180."""
        turn = self.template.twist_deg - at_deg if self.is_upper else at_deg
        return (turn + 180) % 360 - 180

    def outer_mm(self, turn_deg: float) -> float:
        return self._meets(turn_deg, self.template.od_mm / 2)

    def inner_mm(self, turn_deg: float) -> float:
        return self._meets(turn_deg, self.template.od_mm / 2 - self.template.wall_mm)

    def cut_mm(self, turn_deg: float) -> float:
        """The line to cut to: the larger of skin and bore."""
        return max(self.outer_mm(turn_deg), self.inner_mm(turn_deg))

    @property
    def keep_edge_mm(self) -> float:
        """The straight edge of the paper on the kept side."""
        most = max(self.cut_mm(turn) for turn in range(-180, 180))
        return max(self.longest_mm, most) + KEEP_MM

    @property
    def waste_edge_mm(self) -> float:
        return self.shortest_mm - WASTE_MM

    @property
    def height_mm(self) -> float:
        return self.keep_edge_mm - self.waste_edge_mm

    def turns(self) -> list[float]:
        """Turns to draw at: once round, and on over the strip that is folded under."""
        last = 180 + FOLD_MM / self.template.wrap_mm * 360
        turns = [float(turn) for turn in range(-180, int(last) + 1, STEP_DEG)]
        return [*turns, last] if last > turns[-1] else turns

    def _meets(self, turn_deg: float, skin_mm: float) -> float:
        return reach_mm(
            self.at_deg(turn_deg),
            skin_mm=skin_mm,
            main_mm=self.end.onto_mm / 2,
            angle_deg=self.end.angle_deg,
            offset_mm=self.end.offset_mm,
        )


def strips(template: Template) -> tuple[Strip, ...]:
    """The ends of a template, the first as the lower strip, the other as the upper."""
    found = []
    for number, end in enumerate(template.ends):
        answer = cope(
            CopeQuestion(
                Branch(template.od_mm, template.wall_mm),
                Main(end.onto_mm),
                end.angle_deg,
                end.offset_mm,
            )
        )
        found.append(
            Strip(template, end, number == 1, answer["longest"], answer["shortest"])
        )
    return tuple(found)


def corrected(measured_mm: float, before: float = 1.0) -> float:
    """The factor to print with after a bar of 50.0 mm measured `measured_mm`.

    `before` is the factor that the measured sheet was printed with.
    """
    return before * 50.0 / measured_mm
