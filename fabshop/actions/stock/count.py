"""Count-up: what somebody measured on the rack; the difference has a reason."""

from __future__ import annotations

from datetime import datetime

from fabshop import words
from fabshop.actions.log import once, write_entry
from fabshop.actions.log.entry import new_client_id
from fabshop.actions.shop import require
from fabshop.actions.stock.locked import locked_piece, piece_as_it_stands, refuse_gone
from fabshop.actions.typed import number, one_line
from fabshop.errors import BadInput
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.stock import Piece, PieceCount
from fabshop.units import show_length, show_sizes


def _count_of(entry: LogEntry) -> PieceCount:
    return PieceCount.objects.select_related("piece").get(pk=entry.before["count"])


@once(words.EntryKind.COUNTED, first=_count_of)
def count_piece(
    *,
    by: Person,
    piece: Piece,
    now: datetime,
    length_um: int,
    width_um: int | None = None,
    reason: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> PieceCount:
    """Say what is seen of a piece; the difference to the record becomes an entry."""
    require(by, "write")
    piece = locked_piece(piece)
    refuse_gone(piece)
    stands = piece_as_it_stands(piece)
    number(length_um, field="length", label="Seen")
    wide_was = stands.wide_um if piece.is_flat else 0
    wide_seen = wide_was if width_um is None else width_um
    if not piece.is_flat and width_um:
        raise BadInput(f"Width: a {piece.form} has none.", field="width")
    number(wide_seen, field="width", label="Width seen")
    by_um, by_wide = length_um - stands.left_um, wide_seen - wide_was
    reason = one_line(reason, field="reason", label="Reason", most=160)
    if (by_um or by_wide) and not reason:
        raise BadInput(
            f"{piece.code}: the record says {size(stands.left_um, wide_was)}, you saw "
            f"{size(length_um, wide_seen)}. What happened? Write a reason.",
            field="reason",
        )
    client_id = client_id or new_client_id()
    count = PieceCount.objects.create(
        piece=piece,
        length_was_um=stands.left_um,
        length_seen_um=length_um,
        length_difference_um=by_um,
        width_was_um=wide_was,
        width_seen_um=wide_seen,
        width_difference_um=by_wide,
        reason=reason,
        person=by,
        at=at or now,
        client_id=client_id,
    )
    write_entry(
        kind=words.EntryKind.COUNTED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        text=f"{piece.code}: seen {size(length_um, wide_seen)}, "
        f"the record said {size(stands.left_um, wide_was)}"
        + (f". {reason}" if reason else ""),
        before={"count": count.pk},
    )
    return count


def size(length_um: int, wide_um: int) -> str:
    return show_sizes(length_um, wide_um) if wide_um else show_length(length_um)
