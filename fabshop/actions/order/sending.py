"""What went out and what was promised: the lead clock, and every word on it."""

from __future__ import annotations

from datetime import date, datetime

from fabshop import words
from fabshop.actions import wall
from fabshop.actions.drawing.look import asked_before_sending
from fabshop.actions.drawing.sent import note_drawings
from fabshop.actions.log.entry import new_client_id, once, write_entry
from fabshop.actions.moved import Before, move
from fabshop.actions.order.locked import locked_order, order_of
from fabshop.actions.order.owed import balance
from fabshop.actions.shop import require
from fabshop.actions.typed import one_line
from fabshop.errors import BadInput, Clash, FieldError, NeedsAnswer
from fabshop.records.log import LogEntry
from fabshop.records.order import Order, OrderLine, Promise, Sending
from fabshop.records.shop import Person
from fabshop.units import show_day


def _sending_of(entry: LogEntry) -> Sending:
    return Sending.objects.get(pk=entry.before["sending"])


def _promise_of(entry: LogEntry) -> Promise:
    return Promise.objects.get(pk=entry.before["promise"])


@once(words.EntryKind.SENT, first=_sending_of)
def mark_sent(
    *,
    by: Person,
    order: Order,
    now: datetime,
    on: date | None = None,
    revision: str | None = None,
    to: words.Move | str = words.Move.FIRM,
    confirm: bool = False,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Sending:
    """Say that the file or the booking went out: the lead clock starts on that day.

    Asks for the revision where the file has changed since it went out last, and about
    drawings that are not closed, of senseless size or twice the same hand, unless
    `confirm` says they are right. The move is the firm's then, or the carrier's where
    `to` says so.
    """
    require(by, "own")
    order = locked_order(order)
    _refuse_given_up(order)
    today = wall.day(at or now)
    on = on or today
    if on > today:
        raise BadInput(
            f"{show_day(on)} has not come yet; today is {show_day(today)}.", field="on"
        )
    if to not in (words.Move.FIRM, words.Move.CARRIER):
        raise BadInput("What is sent is with them or on the road.", field="to")
    last = order.sendings.order_by("at", "id").last()
    revision = _revision_sent(order, last, revision or "")
    standing = order.sendings.filter(is_taken_back=False).order_by("at", "id").last()
    if order.sent_on and revision == (standing.revision if standing else ""):
        raise Clash(
            f"{order.code} was sent on {show_day(order.sent_on)} already"
            + (f", revision {revision}." if revision else "."),
            code="is-sent",
        )
    if not confirm and (asked := asked_before_sending(order)):
        raise NeedsAnswer(
            f"Look at the drawing before it goes out. {' '.join(asked)} Send it all "
            "the same?",
            field="confirm",
            code="drawing-doubtful",
        )
    sending = Sending.objects.create(
        order=order,
        sent_on=on,
        revision=revision,
        person=by,
        at=at or now,
        client_id=client_id or new_client_id(),
    )
    note_drawings(sending)
    before: Before = {"sending": sending.pk}
    move(
        order,
        before,
        sent_on=on,
        move=to,
        file_revision=order.file_revision or revision,
    )
    write_entry(
        kind=words.EntryKind.SENT,
        by=by,
        now=now,
        at=at,
        client_id=sending.client_id,
        order=order,
        text=f"Sent {show_day(on)}" + (f", revision {revision}" if revision else ""),
        before=before,
    )
    return sending


@once(words.EntryKind.NOT_SENT, first=order_of)
def take_back_sending(
    *,
    by: Person,
    order: Order,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Order:
    """Say that it was not sent after all: the move is mine again, the clock stands.

    What was sent before that, if anything was, holds again.
    """
    require(by, "own")
    order = locked_order(order)
    standing = order.sendings.filter(is_taken_back=False).order_by("at", "id")
    sending = standing.last()
    if sending is None and order.sent_on is None:
        raise Clash(f"{order.code} is not sent, so there is nothing to take back.")
    if sending is not None:
        sending.is_taken_back = True
        sending.save(update_fields=["is_taken_back"])
    earlier = standing.last()
    before: Before = {"sending": sending.pk if sending else None}
    move(
        order,
        before,
        sent_on=earlier.sent_on if earlier else None,
        move=words.Move.FIRM if earlier else words.Move.ME,
    )
    write_entry(
        kind=words.EntryKind.NOT_SENT,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        order=order,
        text="Not sent after all",
        before=before,
    )
    return order


@once(words.EntryKind.PROMISED, first=_promise_of)
def promise(
    *,
    by: Person,
    order: Order,
    now: datetime,
    line: OrderLine | None = None,
    eta_on: date | None = None,
    latest_on: date | None = None,
    said: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> Promise:
    """Keep another word on when an order, or one line of it, comes.

    All words stay. One that names no day ("next week") is kept as it was said.
    """
    require(by, "own")
    order = locked_order(order)
    _refuse_given_up(order)
    if line is not None and line.order_id != order.pk:
        raise BadInput(f"{line} is not a line of {order.code}.", field="line")
    said = one_line(said, field="said", label="Their words", most=120)
    refuse_impossible_days(order, eta_on, latest_on, said)
    lines = [line] if line is not None else list(order.lines.all())
    if lines and not any(balance(one).owed_milli for one in lines):
        raise Clash(f"Nothing is owed on {order.code} any more.", code="nothing-owed")
    given = Promise.objects.create(
        order=order,
        line=line,
        eta_on=eta_on,
        latest_on=latest_on,
        said=said,
        person=by,
        at=at or now,
        client_id=client_id or new_client_id(),
    )
    days = [
        f"{name} {show_day(day)}"
        for name, day in (("due", eta_on), ("latest", latest_on))
        if day
    ]
    what = f"Line {line.number}: " if line is not None else ""
    write_entry(
        kind=words.EntryKind.PROMISED,
        by=by,
        now=now,
        at=at,
        client_id=given.client_id,
        order=order,
        text=what + ", ".join([*days, *([f"“{said}”"] if said else [])]),
        before={"promise": given.pk},
    )
    return given


def _refuse_given_up(order: Order) -> None:
    if order.given_up_at is not None:
        raise Clash(
            f"{order} was given up {wall.clock(order.given_up_at)}.", code="is-given-up"
        )


def _revision_sent(order: Order, last: Sending | None, said: str) -> str:
    """The revision that went out: as said, else the only one it can have been."""
    said = one_line(said, field="revision", label="Revision", most=12)
    if said:
        return said
    if last is not None and last.revision and last.revision != order.file_revision:
        held = order.file_revision or "another"
        raise NeedsAnswer(
            f"They were sent revision {last.revision}, the file here is {held}. "
            "Which went out now?",
            field="revision",
            code="which-revision",
        )
    if order.file_name and not order.file_revision:
        raise NeedsAnswer(
            f"Which revision of {order.file_name} went out?",
            field="revision",
            code="which-revision",
        )
    return order.file_revision


def refuse_impossible_days(
    order: Order, eta_on: date | None, latest_on: date | None, said: str
) -> None:
    """Refuse a day of an order that is not sent, or one before it was sent."""
    if eta_on is None and latest_on is not None:
        raise BadInput(
            "Say the day it is due too, not only the latest.", field="eta_on"
        )
    if eta_on is None:
        if not said:
            raise BadInput("Say a day, or their words.", field="eta_on")
        return
    if order.sent_on is None:
        raise BadInput(
            f"The clock starts when it is sent: {order.code} is not sent yet.",
            field="eta_on",
        )
    if eta_on < order.sent_on:
        message = (
            f"Due {show_day(eta_on)}, but sent {show_day(order.sent_on)}: "
            "it cannot come before it was sent."
        )
        raise BadInput(
            message,
            field="eta_on",
            errors=(FieldError("eta_on", message), FieldError("sent_on", message)),
        )
    if latest_on is not None and latest_on < eta_on:
        raise BadInput(
            f"Latest {show_day(latest_on)} is before the day it is due, "
            f"{show_day(eta_on)}.",
            field="latest_on",
        )
