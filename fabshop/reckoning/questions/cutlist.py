"""The cut list question: pieces wanted, stock at hand, the saw's kerf."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import Meta

from fabshop.reckoning.questions.strict import refuse, typed, unique_ids

MAX_KINDS = 500
"""Entries of `stock`, and as many of `pieces`."""
MAX_CUT = 5_000
"""Pieces in all, counts added up: what can be begun in the time."""
MAX_MM = 100_000
MAX_COST = 1_000_000

Length = Annotated[float, Meta(gt=0, le=MAX_MM)]
Allowance = Annotated[float, Meta(ge=0, le=MAX_MM)]
Name = Annotated[str, Meta(min_length=1, max_length=200)]
Count = Annotated[int, Meta(ge=1, le=MAX_CUT)]


class Stock(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """`count` lengths alike; None where there are as many as needed."""

    id: Name
    length: Length
    count: Count | None = 1
    cost: Annotated[float, Meta(ge=0, le=MAX_COST)] = 0.0


class Piece(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """`count` pieces alike, of one finished length."""

    id: Name
    length: Length
    count: Count = 1


class CutlistQuestion(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """Which piece from which stock; millimetres, kept to the micrometre.

    `prefer` says what comes after cost: the least length opened, or the longest
    single drop and the least length only then.
    """

    stock: Annotated[tuple[Stock, ...], Meta(max_length=MAX_KINDS)]
    pieces: Annotated[tuple[Piece, ...], Meta(max_length=MAX_KINDS)]
    kerf: Allowance = 0.0
    end_trim: Allowance = 0.0
    keep_over: Allowance = 0.0
    prefer: Literal["length", "drop"] = "length"
    time_limit_s: Annotated[float, Meta(gt=0, le=600)] = 5.0


def cutlist_question(question: object) -> CutlistQuestion:
    """The question as its struct, or BadQuestion in one line."""
    asked = typed(question, CutlistQuestion)
    unique_ids(asked.stock, "stock", "stock")
    unique_ids(asked.pieces, "pieces", "piece")
    for index, thing in enumerate(asked.pieces):
        if thing.length < 0.001:
            refuse(f"pieces[{index}].length", "is less than a micrometre")
    wanted = sum(piece.count for piece in asked.pieces)
    if wanted > MAX_CUT:
        refuse("pieces", f"come to {wanted} in all; at most {MAX_CUT} can be planned")
    return asked
