"""Goods in: a parcel counted line by line, or left shut."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass, replace
from datetime import datetime

from fabshop import words
from fabshop.actions.log.entry import new_client_id, once, write_entry
from fabshop.actions.moved import Before
from fabshop.actions.order.freed import outcome
from fabshop.actions.order.locked import locked_order
from fabshop.actions.order.owed import (
    balance,
    line_name,
    pass_move_on,
)
from fabshop.actions.order.parcel import (
    Count,
    ask_whether_same,
    booked_before,
    refuse_impossible,
)
from fabshop.actions.order.receipt import is_in_the_box, write_receipt
from fabshop.actions.order.said import (
    count_words,
    said_of_lines,
    said_of_order,
    said_of_tasks,
)
from fabshop.actions.shop import require
from fabshop.errors import BadInput, Clash
from fabshop.reckoning.readiness import readiness
from fabshop.records.log import LogEntry
from fabshop.records.order import Order, OrderLine, Receipt
from fabshop.records.shop import Person
from fabshop.snapshot import take


@dataclass(frozen=True)
class Loose:
    """Some of a line about which somebody must say what becomes of it."""

    line: int
    quantity_milli: int


@dataclass(frozen=True)
class Received:
    """What a parcel did: its receipts, the tasks it freed, and what there is to say.

    `short` asks "rest coming, refunded, make it?", `wrong` lies on the penalty shelf
    and may be ordered again, `over` asks "keep or give back?".
    """

    receipts: tuple[Receipt, ...]
    freed: tuple[str, ...] = ()
    sentences: tuple[str, ...] = ()
    short: tuple[Loose, ...] = ()
    wrong: tuple[Loose, ...] = ()
    over: tuple[Loose, ...] = ()


def _received_of(entry: LogEntry) -> Received:
    said = entry.before
    receipts = Receipt.objects.filter(pk__in=said["receipts"]).order_by("pk")
    return Received(
        receipts=tuple(receipts.select_related("line")),
        freed=tuple(said["freed"]),
        sentences=tuple(said["sentences"]),
        **{
            name: tuple(Loose(**loose) for loose in said[name])
            for name in ("short", "wrong", "over")
        },
    )


def _first_booking(found: dict[int, Receipt]) -> Received:
    entry = LogEntry.objects.filter(client_id=found[min(found)].parcel).first()
    if entry is not None and entry.kind == words.EntryKind.RECEIVED:
        return _received_of(entry)
    return Received(receipts=tuple(found[number] for number in sorted(found)))


def _as_they_stand(order: Order, counts: Sequence[Count]) -> list[Count]:
    """The counts of the lines as they are now, not as a page once read them."""
    lines = {line.pk: line for line in order.lines.all()}
    return [replace(count, line=lines[count.line.pk]) for count in counts]


def _opened_with(order: Order, counts: Sequence[Count]) -> list[Count]:
    """Nought of each line that stood here shut and was not in the opened box."""
    counted = {count.line.pk for count in counts}
    return [
        Count(line)
        for line in order.lines.all()
        if line.pk not in counted and is_in_the_box(line)
    ]


def _loose(rest: Iterable[tuple[OrderLine, int]]) -> tuple[Loose, ...]:
    return tuple(Loose(line.number, milli) for line, milli in rest if milli)


def _receipts_of(entry: LogEntry) -> tuple[Receipt, ...]:
    found = Receipt.objects.filter(pk__in=entry.before["receipts"])
    return tuple(found.select_related("line"))


@once(words.EntryKind.RECEIVED, first=_received_of)
def receive_parcel(
    *,
    by: Person,
    order: Order,
    counts: Sequence[Count],
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
    same_parcel: bool | None = None,
) -> Received:
    """Book in what one parcel held; more than ordered is accepted and said.

    Where the same was booked earlier that day it asks. `same_parcel` True answers
    with that booking and adds only what it had not counted; False adds all on top.
    """
    require(by, "write")
    order = locked_order(order)
    refuse_impossible(order, counts)
    counts = _as_they_stand(order, counts)
    at = at or now
    found = {} if same_parcel is False else booked_before(counts, at)
    if found and same_parcel is None:
        ask_whether_same(found, at)
    fresh = [count for count in counts if count.line.number not in found]
    if found and not fresh:
        return _first_booking(found)
    fresh += _opened_with(order, counts)
    boxed = [count.line.pk for count in fresh if is_in_the_box(count.line)]
    before_ready = readiness(take(now))
    parcel = client_id or new_client_id()
    receipts = tuple(
        write_receipt(
            count.line,
            by=by,
            at=at,
            parcel=parcel,
            accepted_milli=count.accepted_milli,
            wrong_milli=count.wrong_milli,
            wrong_why=(count.why or "") if count.wrong_milli else "",
            note=count.note,
        )
        for count in fresh
    )
    before: Before = {
        "receipts": [receipt.pk for receipt in receipts],
        "boxed": boxed,
    }
    pass_move_on(order, before)
    lines = {f"{order.code}/{count.line.number}" for count in fresh}
    facts = take(now)
    titles = {task.id: task.title for task in facts.tasks}
    result = outcome(before_ready, readiness(facts), lines, titles)
    is_empty = not any(count.counted_milli for count in fresh)
    looked_at = [count for count in fresh if is_empty or count.counted_milli]
    received = Received(
        receipts=(*(found[number] for number in sorted(found)), *receipts),
        freed=result.freed,
        sentences=(
            *said_of_order(order, fresh),
            *said_of_lines(looked_at),
            *result.sentences,
            *said_of_tasks(looked_at),
        ),
        short=_loose((c.line, balance(c.line).owed_milli) for c in looked_at),
        wrong=_loose((c.line, c.wrong_milli) for c in looked_at),
        over=_loose((c.line, balance(c.line).over_milli) for c in looked_at),
    )
    before |= {
        "freed": list(received.freed),
        "sentences": list(received.sentences),
        **{
            name: [asdict(loose) for loose in getattr(received, name)]
            for name in ("short", "wrong", "over")
        },
    }
    write_entry(
        kind=words.EntryKind.RECEIVED,
        by=by,
        now=now,
        at=at,
        client_id=parcel,
        order=order,
        text="\n".join(count_words(count) for count in fresh),
        before=before,
    )
    return received


@once(words.EntryKind.RECEIVED, first=_receipts_of)
def leave_shut(
    *,
    by: Person,
    order: Order,
    now: datetime,
    lines: Sequence[OrderLine] = (),
    note: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> tuple[Receipt, ...]:
    """Say that a parcel is here, still in the box: it frees nothing until opened.

    Of all lines that are owed, unless `lines` says of which.
    """
    require(by, "write")
    order = locked_order(order)
    owed = [line for line in order.lines.all() if balance(line).owed_milli]
    chosen = list(lines) or owed
    if strangers := [line for line in chosen if line.order_id != order.pk]:
        raise BadInput(f"{line_name(strangers[0])} is not on {order.code}.")
    if not chosen:
        raise Clash(f"Nothing is owed on {order.code} any more.", code="nothing-owed")
    parcel = client_id or new_client_id()
    receipts = tuple(
        write_receipt(
            line,
            by=by,
            at=at or now,
            parcel=parcel,
            kind=words.ReceiptKind.IN_THE_BOX,
            note=note,
        )
        for line in chosen
    )
    write_entry(
        kind=words.EntryKind.RECEIVED,
        by=by,
        now=now,
        at=at,
        client_id=parcel,
        order=order,
        text="Here, left in the box.",
        before={
            "receipts": [receipt.pk for receipt in receipts],
            "freed": [],
            "sentences": [],
            "short": [],
            "wrong": [],
            "over": [],
        },
    )
    return receipts
