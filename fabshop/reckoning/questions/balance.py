"""The balance question: parts with a mass and a place, on a wheelbase."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from fabshop.reckoning.questions.strict import refuse, typed, unique_ids

MAX_PARTS = 5_000
MAX_MM = 100_000
MAX_GRAMS = 10_000_000
MAX_COUNT = 10_000

Coordinate = Annotated[float, Meta(ge=-MAX_MM, le=MAX_MM)]


class Part(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """`count` pieces of `mass` grams each; None where nobody knows the mass."""

    id: str
    x: Coordinate
    y: Coordinate = 0.0
    z: Coordinate = 0.0
    mass: Annotated[float, Meta(ge=0, le=MAX_GRAMS)] | None = None
    count: Annotated[int, Meta(ge=1, le=MAX_COUNT)] = 1


class BalanceQuestion(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """x forward of the rear axle, y to the left, z up from the ground, millimetres."""

    wheelbase: Annotated[float, Meta(gt=0, le=MAX_MM)]
    parts: Annotated[tuple[Part, ...], Meta(max_length=MAX_PARTS)]


def balance_question(question: object) -> BalanceQuestion:
    """The question as its struct, or BadQuestion in one line."""
    asked = typed(question, BalanceQuestion)
    if asked.wheelbase < 0.001:
        refuse("wheelbase", "is less than a micrometre")
    unique_ids(asked.parts, "parts", "part")
    return asked
