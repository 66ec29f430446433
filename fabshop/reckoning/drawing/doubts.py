"""What to look at twice before a drawing is sent, each in one sentence."""

from __future__ import annotations

from dataclasses import dataclass

from fabshop import words
from fabshop.reckoning.drawing.shape import Hole, Shape
from fabshop.units import show_milli

# Common practice: what a cutter's table takes, and what falls through its slats.
LONGEST_MM = 3000.0
SHORTEST_MM = 3.0
# Rule of thumb for laser cutting, not a standard: a hole or slot is at least as wide
# as the sheet is thick, and 1 mm (tuanthinh.net, smslaserfab.com; acutelaser.com.au
# goes down to 0.7 of it).
HOLE_BY_THICKNESS = 1.0
LEAST_HOLE_MM = 1.0
PRACTICE = "common practice, not a standard"


@dataclass(frozen=True)
class Doubt:
    """`stops`: it asks before the file is sent; else it is only said."""

    name: str
    words: str
    stops: bool


def doubts(
    shape: Shape,
    *,
    thickness_um: int | None = None,
    earlier: Shape | None = None,
    hole_by_thickness: float = HOLE_BY_THICKNESS,
) -> list[Doubt]:
    """Everything doubtful about a drawing; `earlier` is the revision before it."""
    found = [*_openings(shape), *_size(shape), *_units(shape, earlier)]
    if shape.twice:
        found.append(
            Doubt(
                "twice",
                f"{_count(shape.twice, 'line lies', 'lines lie')} exactly on another: "
                "cut twice, paid twice.",
                False,
            )
        )
    if shape.outers > 1:
        found.append(
            Doubt("parts", f"{shape.outers} separate parts are in one drawing.", False)
        )
    small = small_holes(shape, thickness_um, hole_by_thickness)
    if small:
        least = small_hole_mm(thickness_um, hole_by_thickness)
        found.append(
            Doubt(
                "small-hole",
                f"{_count(len(small), 'hole is', 'holes are')} narrower than "
                f"{_mm(least)}, the smallest {_mm(small[0].width_mm)} at "
                f"{_at(small[0].x, small[0].y)}: the rule of thumb is at least the "
                f"thickness and {_mm(LEAST_HOLE_MM)} ({PRACTICE}).",
                False,
            )
        )
    for name, count in shape.left_out:
        if name == "SPLINE" or name.startswith("on the hidden"):
            found.append(Doubt("left-out", f"Not read: {count} {name}.", True))
    return found


def small_hole_mm(
    thickness_um: int | None, by_thickness: float = HOLE_BY_THICKNESS
) -> float:
    """The narrowest hole that the rule of thumb allows in a sheet."""
    return max(LEAST_HOLE_MM, (thickness_um or 0) / 1000 * by_thickness)


def small_holes(
    shape: Shape, thickness_um: int | None, by_thickness: float = HOLE_BY_THICKNESS
) -> list[Hole]:
    """The holes under the rule of thumb, smallest first."""
    least = small_hole_mm(thickness_um, by_thickness)
    # A hole drawn as wide as the sheet is thick is allowed, whatever the last place.
    return [hole for hole in shape.holes if hole.width_mm < least - 0.001]


def mass_mg(shape: Shape, thickness_um: int, density_mg_cm3: int) -> int:
    """What the part weighs: area by thickness by density."""
    return round(shape.area_mm2 * thickness_um / 1000 * density_mg_cm3 / 1000)


def said_of_hands(hand: str, found: words.Mirror) -> tuple[str, bool]:
    """The sentence on a drawing and its twin's, and whether it must be asked about."""
    if found is words.Mirror.SAME:
        return (
            "The drawings of left and right are the same: two "
            f"{'lefts' if hand == words.Hand.LEFT else 'rights'} would come.",
            True,
        )
    if found is words.Mirror.DIFFERENT:
        return "The drawings of left and right are neither same nor mirrored.", True
    if found is words.Mirror.BOTH:
        return "The part is its own mirror image: it serves on either side.", False
    return "Left and right are mirror images of each other.", False


def _openings(shape: Shape) -> list[Doubt]:
    found = []
    if not shape.outers:
        found.append(Doubt("no-outline", "No outline of it is closed.", True))
    if shape.open_count:
        told = "; ".join(
            f"{_at(*gap.here)} and {_at(*gap.there)} gap by {_mm(gap.mm)}"
            for gap in shape.gaps[:3]
            if gap.there
        )
        more = len(shape.gaps) - 3
        found.append(
            Doubt(
                "open",
                f"{_count(shape.open_count, 'outline is', 'outlines are')} not closed: "
                f"{told}{f'; and {more} more' if more > 0 else ''}.",
                True,
            )
        )
    if shape.crossings:
        found.append(
            Doubt(
                "crossing",
                f"More than two lines meet at {_at(*shape.crossings[0])}"
                + (f" and {len(shape.crossings) - 1} more" * (len(shape.crossings) > 1))
                + ": which way does the cut go?",
                True,
            )
        )
    return found


def _size(shape: Shape) -> list[Doubt]:
    size = f"{_mm(shape.width_mm)} by {_mm(shape.height_mm)}"
    if shape.longest_mm > LONGEST_MM:
        would = _would(shape, (1 / 25.4, "drawn in mm"), (1 / 10, "drawn in mm"))
        said = f"It is {size}: longer than a sheet of {_mm(LONGEST_MM)}{would}."
        return [Doubt("size", said, True)]
    if shape.longest_mm < SHORTEST_MM:
        would = _would(shape, (25.4, "drawn in inches"), (1000.0, "drawn in metres"))
        said = f"It is {size}: it would fall through the cutter's table{would}."
        return [Doubt("size", said, True)]
    return []


def _would(shape: Shape, *ways: tuple[float, str]) -> str:
    unit = {"in": 0, "cm": 1}.get(shape.unit, 0)
    factor, way = ways[min(unit, len(ways) - 1)]
    if SHORTEST_MM <= shape.longest_mm * factor <= LONGEST_MM:
        return (
            f". {way.capitalize()} it would be {_mm(shape.width_mm * factor)} by "
            f"{_mm(shape.height_mm * factor)}"
        )
    return ""


def _units(shape: Shape, earlier: Shape | None) -> list[Doubt]:
    found = []
    size = f"{_mm(shape.width_mm)} by {_mm(shape.height_mm)}"
    if not shape.unit:
        found.append(
            Doubt(
                "no-unit",
                f"The file does not say its unit. Taken as mm it is {size}; in inches "
                f"it would be {_mm(shape.width_mm * 25.4)} by "
                f"{_mm(shape.height_mm * 25.4)}.",
                True,
            )
        )
    elif shape.unit == "in" and shape.is_metric_file:
        found.append(
            Doubt(
                "unit-doubtful",
                "The file says inches, but was drawn in a metric program: as inches it "
                f"is {size}, as mm {_mm(shape.width_mm / 25.4)} by "
                f"{_mm(shape.height_mm / 25.4)}.",
                True,
            )
        )
    if earlier is not None and earlier.longest_mm and shape.longest_mm:
        ratio = shape.longest_mm / earlier.longest_mm
        for factor, say in ((25.4, "25.4 times"), (10.0, "10 times")):
            if abs(ratio / factor - 1) < 0.02 or abs(ratio * factor - 1) < 0.02:
                big = (
                    f"{say} the size" if ratio > 1 else f"one {say[:-6]}th of the size"
                )
                found.append(
                    Doubt(
                        "unit-jump",
                        f"It is {big} of the drawing before it: is the unit right?",
                        True,
                    )
                )
    return found


def _mm(value: float) -> str:
    return f"{show_milli(round(value * 1000))} mm" if value < 100 else f"{value:.1f} mm"


def _at(x: float, y: float) -> str:
    return f"({x:.1f}, {y:.1f})"


def _count(count: int, one: str, many: str) -> str:
    return f"{count} {one if count == 1 else many}"
