"""The blanks question: rectangles wanted, sheets at hand, the saw's kerf, the grain."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from fabshop.reckoning.questions.strict import refuse, typed, unique_ids

MAX_KINDS = 60
MAX_BLANKS = 60
"""Blanks in all, counts added up."""
MAX_SHEETS = 20
"""Sheets in all, counts added up."""
MAX_MM = 10_000
MAX_COST = 1_000_000

Size = Annotated[float, Meta(gt=0, le=MAX_MM)]
Name = Annotated[str, Meta(min_length=1, max_length=200)]
Along = Literal["", "length", "width"]


class SheetStock(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """`count` sheets alike; `grain` is which way it runs, "" where there is none."""

    id: Name
    length: Size
    width: Size
    count: Annotated[int, Meta(ge=1, le=MAX_SHEETS)] = 1
    cost: Annotated[float, Meta(ge=0, le=MAX_COST)] = 0.0
    grain: Along = ""


class Blank(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """`count` rectangles alike; with a `grain` it is turned only as that allows."""

    id: Name
    length: Size
    width: Size
    count: Annotated[int, Meta(ge=1, le=MAX_BLANKS)] = 1
    grain: Along = ""


class BlanksQuestion(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Which rectangle from which sheet; millimetres, kept to the micrometre."""

    sheets: Annotated[tuple[SheetStock, ...], Meta(max_length=MAX_KINDS)]
    blanks: Annotated[tuple[Blank, ...], Meta(max_length=MAX_KINDS)]
    kerf: Annotated[float, Meta(ge=0, le=MAX_MM)] = 0.0
    time_limit_s: Annotated[float, Meta(gt=0, le=600)] = 5.0


def blanks_question(question: object) -> BlanksQuestion:
    """The question as its struct, or BadQuestion in one line."""
    asked = typed(question, BlanksQuestion)
    unique_ids(asked.sheets, "sheets", "sheet")
    unique_ids(asked.blanks, "blanks", "blank")
    for path, count, most in (
        ("blanks", sum(blank.count for blank in asked.blanks), MAX_BLANKS),
        ("sheets", sum(sheet.count for sheet in asked.sheets), MAX_SHEETS),
    ):
        if count > most:
            refuse(path, f"come to {count} in all; at most {most} can be planned")
    return asked
