"""The battery question: packs by cells and capacity."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import Meta

from fabshop.reckoning.questions.strict import typed, unique_ids

MAX_PACKS = 1_000


class Pack(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """`count` packs of `cells` in series; None where the label does not say."""

    id: str
    cells: Annotated[int, Meta(ge=1, le=1_000)] | None = None
    mah: Annotated[float, Meta(ge=0, le=10_000_000)] | None = None
    volts_per_cell: Annotated[float, Meta(gt=0, le=10)] = 3.7
    count: Annotated[int, Meta(ge=1, le=10_000)] = 1
    installed: bool = False


class BatteryQuestion(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    packs: Annotated[tuple[Pack, ...], Meta(max_length=MAX_PACKS)]


def battery_question(question: object) -> BatteryQuestion:
    """The question as its struct, or BadQuestion in one line."""
    asked = typed(question, BatteryQuestion)
    unique_ids(asked.packs, "packs", "pack")
    return asked
