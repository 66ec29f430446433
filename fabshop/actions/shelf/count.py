"""Count-up of the shelf: the figure seen; the difference moves, with its reason."""

from __future__ import annotations

from datetime import datetime

from fabshop import words
from fabshop.actions.log import once
from fabshop.actions.shelf.locked import (
    Thing,
    amount,
    fitting,
    left_of,
    locked,
    move_of,
    moved,
    refuse_gone,
)
from fabshop.actions.shop import require
from fabshop.actions.typed import number, one_line
from fabshop.errors import BadInput
from fabshop.records.shelf import ShelfMove
from fabshop.records.shop import Person


@once(words.EntryKind.SHELF_COUNT, first=move_of)
def count_up(
    *,
    by: Person,
    thing: Thing,
    seen_milli: int,
    now: datetime,
    reason: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> ShelfMove:
    """Say how much is seen there; what differs from the record needs its reason."""
    require(by, "write")
    thing = locked(thing)
    refuse_gone(thing)
    number(seen_milli, field="seen", label="Seen")
    fitting(thing, seen_milli, field="seen")
    was = left_of(thing)
    reason = one_line(reason, field="reason", label="Reason", most=160)
    if was != seen_milli and not reason:
        raise BadInput(
            f"{thing.code}: the record says {amount(thing, was)}, you saw "
            f"{amount(thing, seen_milli)}. What happened? Write a reason.",
            field="reason",
        )
    return moved(
        thing,
        words.MoveKind.COUNTED,
        seen_milli - was,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        entry_kind=words.EntryKind.SHELF_COUNT,
        was_milli=was,
        seen_milli=seen_milli,
        reason=reason,
        text=f"{thing}: seen {amount(thing, seen_milli)}, the record said "
        f"{amount(thing, was)}" + (f". {reason}" if reason else ""),
    )
