"""The cope question: where the end of one tube meets another."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from fabshop.reckoning.questions.strict import refuse, typed

MAX_MM = 10_000
MAX_SAMPLES = 3_600
LEAST_ANGLE = 0.001
"""Of degrees: flatter than that, a cope is longer than any tube."""

Length = Annotated[float, Meta(gt=0, le=MAX_MM)]


class Branch(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The tube that gets the cope, in millimetres."""

    od: Length
    wall: Length


class Main(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """The tube it lands on, in millimetres."""

    od: Length


class CopeQuestion(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Two tubes, the angle between their axes in degrees, and the offset in mm."""

    branch: Branch
    main: Main
    angle: float
    offset: Annotated[float, Meta(ge=-MAX_MM, le=MAX_MM)] = 0.0
    samples: Annotated[int, Meta(ge=4, le=MAX_SAMPLES)] = 72


def cope_question(question: object) -> CopeQuestion:
    """The question as its struct; BadQuestion where no such cope can be."""
    asked = typed(question, CopeQuestion)
    if not 0 < asked.angle <= 90:
        refuse("angle", f"{asked.angle:g} is not over 0 and up to 90 degrees")
    if asked.angle < LEAST_ANGLE:
        refuse("angle", "is less than a thousandth of a degree")
    radius = asked.branch.od / 2
    if asked.branch.wall > radius:
        refuse(
            "branch.wall",
            f"a wall of {asked.branch.wall:g} passes the radius {radius:g}",
        )
    if abs(asked.offset) + radius > asked.main.od / 2:
        refuse(
            "offset",
            f"the branch runs off the main tube's side: {abs(asked.offset):g} + "
            f"{radius:g} is more than its radius {asked.main.od / 2:g}",
        )
    return asked
