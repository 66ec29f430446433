"""Receipts taken back: what was booked in by mistake, or goes back to the firm."""

from __future__ import annotations

from datetime import datetime

from fabshop import words
from fabshop.actions.log.entry import once, write_entry
from fabshop.actions.moved import Before
from fabshop.actions.order.locked import locked_order
from fabshop.actions.order.owed import line_name, pass_move_on, quantity_words
from fabshop.actions.order.receipt import write_receipt
from fabshop.actions.shop import require
from fabshop.errors import BadInput, Clash
from fabshop.records.log import LogEntry
from fabshop.records.order import Receipt
from fabshop.records.shop import Person
from fabshop.units import show_milli


def _taken_back_of(entry: LogEntry) -> Receipt:
    return Receipt.objects.get(pk=entry.before["receipts"][0])


@once(words.EntryKind.TAKEN_BACK, first=_taken_back_of)
def take_back_receipt(
    *,
    by: Person,
    receipt: Receipt,
    now: datetime,
    accepted_milli: int | None = None,
    wrong_milli: int | None = None,
    note: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> Receipt:
    """Take back what one receipt booked, all of it unless some of it is said."""
    require(by, "write")
    order = locked_order(receipt.line.order)
    accepted = receipt.accepted_milli if accepted_milli is None else accepted_milli
    wrong = receipt.wrong_milli if wrong_milli is None else wrong_milli
    before: Before = {}
    back = take_back(receipt, accepted, wrong, by=by, at=at or now, note=note)
    pass_move_on(order, before)
    write_entry(
        kind=words.EntryKind.TAKEN_BACK,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        order=order,
        text=f"{line_name(receipt.line)}: "
        f"{quantity_words(receipt.line, back.counted_milli)} taken back",
        before=before | {"receipts": [back.pk]},
    )
    return back


def take_back(
    receipt: Receipt,
    accepted_milli: int,
    wrong_milli: int,
    *,
    by: Person,
    at: datetime,
    note: str = "",
) -> Receipt:
    """Write the receipt that counts against another; never more than is left of it."""
    line, name = receipt.line, line_name(receipt.line)
    if receipt.kind == words.ReceiptKind.TAKEN_BACK:
        raise Clash(f"{name}: that was taken back; book it in again instead.")
    same = list(Receipt.objects.filter(parcel=receipt.parcel, line=line))
    left_accepted = sum(one.sign * one.accepted_milli for one in same)
    left_wrong = sum(one.sign * one.wrong_milli for one in same)
    was_taken_back = any(one.kind == words.ReceiptKind.TAKEN_BACK for one in same)
    if was_taken_back and not left_accepted + left_wrong:
        raise Clash(f"{name}: all of that was taken back already.")
    for milli, left in ((accepted_milli, left_accepted), (wrong_milli, left_wrong)):
        if not 0 <= milli <= left or (line.unit == words.Unit.PIECE and milli % 1000):
            raise BadInput(
                f"{name}: {show_milli(milli)} cannot be taken back; "
                f"{quantity_words(line, left)} of that is here.",
                field="quantity",
            )
    return write_receipt(
        line,
        by=by,
        at=at,
        parcel=receipt.parcel,
        kind=words.ReceiptKind.TAKEN_BACK,
        accepted_milli=accepted_milli,
        wrong_milli=wrong_milli,
        wrong_why=receipt.wrong_why if wrong_milli else "",
        note=note,
    )
