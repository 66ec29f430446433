"""What becomes of what did not come or came wrong, and of an order given up."""

from __future__ import annotations

import re
from datetime import datetime

from django.db import IntegrityError, transaction

from fabshop import words
from fabshop.actions.log.entry import new_client_id, once, write_entry
from fabshop.actions.moved import Before, move
from fabshop.actions.order.locked import locked_order, order_of
from fabshop.actions.order.owed import (
    WRITTEN_OFF,
    balance,
    line_name,
    pass_move_on,
    quantity_words,
)
from fabshop.actions.shop import require
from fabshop.actions.typed import code as fit_code
from fabshop.errors import BadInput, Clash, NeedsAnswer
from fabshop.records.log import LogEntry
from fabshop.records.order import Order, OrderLine, Settlement
from fabshop.records.shop import Person
from fabshop.records.task import Task
from fabshop.units import show_milli

_CODE = re.compile(r"(.*?)(\d+)")


def _settlement_of(entry: LogEntry) -> Settlement:
    return Settlement.objects.get(pk=entry.before["settlement"])


@once(words.EntryKind.SETTLED, first=_settlement_of)
def settle_line(
    *,
    by: Person,
    line: OrderLine,
    how: words.Settled | str,
    quantity_milli: int,
    now: datetime,
    reordered_on: OrderLine | None = None,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Settlement:
    """Say what becomes of some of a line that is owed.

    That the rest is coming anybody may note who books in; what writes pieces off is
    the owner's to say. Nothing is settled beyond what is owed.
    """
    if how not in list(words.Settled):
        raise BadInput(
            "Rest coming, refunded, make it here, ordered again or given up?",
            field="how",
        )
    require(by, "own" if how in WRITTEN_OFF else "write")
    if (how == words.Settled.REORDERED) != (reordered_on is not None):
        raise BadInput("Ordered again: on which line?", field="reordered_on")
    order = locked_order(line.order)
    _refuse_unowed(line, quantity_milli)
    settlement, before = _settle(
        line, order, words.Settled(how), quantity_milli, by, at or now, reordered_on
    )
    write_entry(
        kind=words.EntryKind.SETTLED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        order=order,
        text=_settled_words(settlement),
        before=before,
    )
    return settlement


@once(words.EntryKind.SETTLED, first=order_of)
def make_reorder(
    *,
    by: Person,
    line: OrderLine,
    quantity_milli: int,
    now: datetime,
    code: str | None = None,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Order:
    """Draft the order that asks again for what came wrong or never came.

    It is with me until somebody sends it; what it makes good is owed there then.
    """
    require(by, "write")
    first = locked_order(line.order)
    _refuse_unowed(line, quantity_milli)
    again = _draft_like(first, code or _next_code(first.code), line, now)
    draft = OrderLine.objects.create(
        order=again,
        number=1,
        title=line.title,
        hand=line.hand,
        unit=line.unit,
        quantity_milli=quantity_milli,
        component=line.component,
    )
    settlement, before = _settle(
        line, first, words.Settled.REORDERED, quantity_milli, by, at or now, draft
    )
    settled = write_entry(
        kind=words.EntryKind.SETTLED,
        by=by,
        now=now,
        at=at,
        order=first,
        text=_settled_words(settlement),
        before=before,
    )
    write_entry(
        kind=words.EntryKind.SETTLED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        order=again,
        text=f"Ordered again for {line_name(line)}.",
        before={"with": [settled.pk]},
    )
    return again


@once(words.EntryKind.GIVEN_UP, first=order_of)
def give_up_order(
    *,
    by: Person,
    order: Order,
    now: datetime,
    confirm: bool = False,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Order:
    """Give an order up. Tasks that need it are listed first, and go on wanting it."""
    require(by, "own")
    order = locked_order(order)
    if order.given_up_at is not None:
        raise Clash(f"{order} is given up already.", code="is-given-up")
    owed = [line for line in order.lines.all() if balance(line).owed_milli]
    tasks = Task.objects.unfinished().filter(needs__line__in=owed).distinct()
    names = ", ".join(str(task) for task in tasks)
    if names and not confirm:
        raise NeedsAnswer(
            f"{order.code} is needed by {names}. Give it up all the same? They go on "
            "wanting parts until you give each another way.",
            field="confirm",
            code="is-needed",
        )
    before: Before = {}
    move(order, before, given_up_at=at or now)
    write_entry(
        kind=words.EntryKind.GIVEN_UP,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        order=order,
        text=f"Needed by {names}." if names else "",
        before=before,
    )
    return order


def _draft_like(first: Order, code: str, line: OrderLine, now: datetime) -> Order:
    try:
        with transaction.atomic():
            return Order.objects.create(
                code=fit_code(code),
                supplier=first.supplier,
                build=first.build,
                title=line.title,
                kind=first.kind,
                move=words.Move.ME,
                lead_early_days=first.lead_early_days,
                lead_likely_days=first.lead_likely_days,
                lead_late_days=first.lead_late_days,
                file_name=first.file_name,
                file_revision=first.file_revision,
                note=f"Makes good {line_name(line)}.",
                made_at=now,
            )
    except IntegrityError:
        raise Clash(f"There is an order {code} already.", field="code") from None


def _refuse_unowed(line: OrderLine, quantity_milli: int) -> None:
    owed, name = balance(line).owed_milli, line_name(line)
    if not 0 < quantity_milli <= owed:
        raise BadInput(
            f"{name}: {show_milli(quantity_milli)} cannot be settled; "
            f"{quantity_words(line, owed)} is owed.",
            field="quantity",
        )
    if line.unit == words.Unit.PIECE and quantity_milli % 1000:
        raise BadInput(
            f"{name}: {show_milli(quantity_milli)} is not a whole number of pieces.",
            field="quantity",
        )


def _settle(
    line: OrderLine,
    order: Order,
    how: words.Settled,
    quantity_milli: int,
    by: Person,
    at: datetime,
    reordered_on: OrderLine | None,
) -> tuple[Settlement, Before]:
    settlement = Settlement.objects.create(
        line=line,
        how=how,
        quantity_milli=quantity_milli,
        reordered_on=reordered_on,
        person=by,
        at=at,
        client_id=new_client_id(),
    )
    before: Before = {"settlement": settlement.pk}
    pass_move_on(order, before)
    return settlement, before


def _settled_words(settlement: Settlement) -> str:
    line = settlement.line
    much = quantity_words(line, settlement.quantity_milli)
    text = f"{line_name(line)}: {much} {words.Settled(settlement.how).label}"
    if settlement.reordered_on is not None:
        text += f" on {settlement.reordered_on.order.code}"
    return text


def _next_code(code: str) -> str:
    """The code after the highest of its kind: P26 where P25 is the last P."""
    found = _CODE.fullmatch(code)
    stem, width = (found[1], len(found[2])) if found else (f"{code[:34]}-", 1)
    highest = 0
    for other in Order.objects.filter(code__startswith=stem).values_list(
        "code", flat=True
    ):
        rest = other[len(stem) :]
        if rest.isdecimal():
            highest = max(highest, int(rest))
    return fit_code(f"{stem}{highest + 1:0{width}}")
