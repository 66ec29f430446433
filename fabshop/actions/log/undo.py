"""Ten minutes to take a line back: a reversing line is written, nothing is deleted."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime, timedelta

from fabshop import words
from fabshop.actions import wall
from fabshop.actions.drawing.put import undo_drawing
from fabshop.actions.joint.undone import JOINT_EFFECTS
from fabshop.actions.log.entry import itself, once, write_entry
from fabshop.actions.log.timer import lock_person
from fabshop.actions.moved import move, put_back
from fabshop.actions.order.locked import locked_order
from fabshop.actions.order.owed import pass_move_on
from fabshop.actions.order.receipt import write_receipt
from fabshop.actions.order.take_back import take_back
from fabshop.actions.shelf.undone import SHELF_EFFECTS
from fabshop.actions.shop import require
from fabshop.actions.stock.undone import RACK_EFFECTS
from fabshop.actions.task.run import undo_run
from fabshop.errors import Clash, NotAllowed
from fabshop.records.log import LogEntry, Timer
from fabshop.records.order import OrderLine, Receipt, Sending, Settlement
from fabshop.records.shop import Person
from fabshop.records.task import HoldSigning

UNDO_MINUTES = 10
# These say something and change nothing, so a reversing line is all there is to do.
_SAYINGS = (words.EntryKind.NOTE, words.EntryKind.STUCK)


@once(words.EntryKind.UNDO, first=itself)
def undo_entry(
    *,
    by: Person,
    entry: LogEntry,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
) -> LogEntry:
    """Take a line of the log back, with all that the same tap did.

    One's own, or the owner anybody's; once; within ten minutes of its arrival; and
    only where nothing has moved on since.
    """
    require(by, "write")
    entry = LogEntry.objects.select_for_update(no_key=True).get(pk=entry.pk)
    _refuse_unfit(entry, by, now)
    chain = _with_it(entry)
    if any("timer" in one.before for one in chain):
        lock_person(entry.person)
    for one in chain:
        _refuse_what_stays(one)
    put_back({"rows": [row for one in chain for row in one.before.get("rows", [])]})
    undo = entry
    for one in reversed(chain):
        for key, effect in _EFFECTS.items():
            if key in one.before:
                effect(one, by, now)
        undo = write_entry(
            kind=words.EntryKind.UNDO,
            by=by,
            now=now,
            at=at,
            client_id=client_id if one.pk == entry.pk else None,
            build=one.build,
            task=one.task,
            component=one.component,
            order=one.order,
            reverses=one,
            text=f"Undone: {one.get_kind_display()}",
        )
    return undo if len(chain) == 1 else LogEntry.objects.get(reverses=entry)


def _refuse_unfit(entry: LogEntry, by: Person, now: datetime) -> None:
    if entry.kind == words.EntryKind.UNDO:
        raise Clash("An undo is not undone; write what is true now instead.")
    if entry.person_id != by.pk and not by.is_owner:
        raise NotAllowed(f"That line is {entry.person}'s; only they or the owner can.")
    undone = LogEntry.objects.filter(reverses=entry).first()
    if undone is not None:
        raise Clash(
            f"That was undone already, {wall.clock(undone.at)}.", code="is-undone"
        )
    if now - entry.server_at > timedelta(minutes=UNDO_MINUTES):
        raise Clash(
            f"The ten minutes are over; that was {wall.clock(entry.server_at)}. "
            "Write what is true now instead.",
            code="too-late",
        )


def _with_it(entry: LogEntry) -> list[LogEntry]:
    """The lines that the same tap wrote, in their order, `entry` last."""
    others = LogEntry.objects.filter(
        pk__in=entry.before.get("with", []), reversed_by=None
    )
    return [
        *(one for other in others.order_by("pk") for one in _with_it(other)),
        entry,
    ]


def _refuse_what_stays(entry: LogEntry) -> None:
    does = {"rows", "with", *_EFFECTS}
    if entry.kind not in _SAYINGS and not does.intersection(entry.before):
        raise Clash(
            f"“{entry.get_kind_display()}” is not undone here: say it anew, "
            "the latest counts.",
            code="not-undone",
        )


def _timer(entry: LogEntry, by: Person, now: datetime) -> None:
    if entry.before["timer"] == "started":
        if not Timer.objects.filter(start=entry).delete()[0]:
            raise Clash("That has been stopped since; undo the stop first.")
        return
    if entry.before["timer"] == "marked":
        if LogEntry.objects.filter(started_by=entry, reversed_by=None).exists():
            raise Clash("That has been stopped since; undo the stop first.")
        return
    if entry.before["timer"] == "mark-stopped":
        return
    running = Timer.objects.filter(person=entry.person).select_related("start__task")
    if other := running.first():
        raise Clash(f"{entry.person} is on {other.start.task} now; stop that first.")
    if entry.started_by is not None:
        Timer.objects.create(person=entry.person, start=entry.started_by)


def _receipts(entry: LogEntry, by: Person, now: datetime) -> None:
    if entry.kind == words.EntryKind.TAKEN_BACK:
        raise Clash("Pieces taken back are booked in again instead.")
    for receipt in Receipt.objects.filter(pk__in=entry.before["receipts"]):
        take_back(receipt, receipt.accepted_milli, receipt.wrong_milli, by=by, at=now)
    for line in OrderLine.objects.filter(pk__in=entry.before.get("boxed", [])):
        shut = words.ReceiptKind.IN_THE_BOX
        write_receipt(line, by=by, at=now, parcel=entry.client_id, kind=shut)
    if entry.order is not None:
        pass_move_on(locked_order(entry.order), {})


def _signing(entry: LogEntry, by: Person, now: datetime) -> None:
    HoldSigning.objects.filter(pk=entry.before["signing"]).update(is_taken_back=True)


def _sending(entry: LogEntry, by: Person, now: datetime) -> None:
    was_sent = entry.kind == words.EntryKind.SENT
    Sending.objects.filter(pk=entry.before["sending"]).update(is_taken_back=was_sent)


def _settlement(entry: LogEntry, by: Person, now: datetime) -> None:
    settlement = Settlement.objects.select_related("line__order", "reordered_on").get(
        pk=entry.before["settlement"]
    )
    settlement.is_taken_back = True
    settlement.save(update_fields=["is_taken_back"])
    if settlement.reordered_on is not None:
        draft = locked_order(settlement.reordered_on.order)
        if draft.sent_on is not None:
            raise Clash(f"{draft} was sent since; take that back first.")
        if draft.given_up_at is None:
            move(draft, {}, given_up_at=now)
    pass_move_on(locked_order(settlement.line.order), {})


_EFFECTS: dict[str, Callable[[LogEntry, Person, datetime], None]] = {
    "timer": _timer,
    "run": undo_run,
    "receipts": _receipts,
    "signing": _signing,
    "sending": _sending,
    "settlement": _settlement,
    "drawing": undo_drawing,
    **JOINT_EFFECTS,
    **RACK_EFFECTS,
    **SHELF_EFFECTS,
}
