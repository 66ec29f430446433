"""Receipts as they are written: one line, one look into one parcel."""

from __future__ import annotations

from datetime import datetime

from fabshop import words
from fabshop.actions.log.entry import new_client_id
from fabshop.actions.typed import one_line
from fabshop.records.order import OrderLine, Receipt
from fabshop.records.shop import Person


def write_receipt(
    line: OrderLine,
    *,
    by: Person,
    at: datetime,
    parcel: str,
    kind: words.ReceiptKind = words.ReceiptKind.COUNTED,
    accepted_milli: int = 0,
    wrong_milli: int = 0,
    wrong_why: str = "",
    note: str = "",
) -> Receipt:
    """Write one receipt; those of one parcel carry its mark."""
    return Receipt.objects.create(
        line=line,
        kind=kind,
        counted_milli=accepted_milli + wrong_milli,
        accepted_milli=accepted_milli,
        wrong_milli=wrong_milli,
        wrong_why=wrong_why,
        note=one_line(note, field="note", label="Note", most=200),
        parcel=parcel,
        person=by,
        at=at,
        client_id=new_client_id(),
    )


def is_in_the_box(line: OrderLine) -> bool:
    """Whether the last that was said of a line is that it is here, still shut in."""
    last = line.receipts.order_by("at", "id").last()
    return last is not None and last.kind == words.ReceiptKind.IN_THE_BOX
