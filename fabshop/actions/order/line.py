"""Lines of an order: a quantity of one thing, of one hand where hands matter."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Any

from fabshop import words
from fabshop.actions.log.entry import once, write_entry
from fabshop.actions.moved import move
from fabshop.actions.order.locked import locked_order, order_of, refuse_moved
from fabshop.actions.order.owed import balance, pass_move_on, quantity_words
from fabshop.actions.shop import require
from fabshop.actions.typed import number, some_line
from fabshop.errors import BadInput
from fabshop.records.order import Order, OrderLine
from fabshop.records.shop import Person

MOST_LINES = 500
_LINE_FIELDS = {"title", "quantity_milli", "unit", "hand", "component"}


@once(words.EntryKind.CHANGED, first=order_of)
def add_line(
    *,
    by: Person,
    order: Order,
    line: Mapping[str, Any],
    now: datetime,
    client_id: str | None = None,
) -> Order:
    """Add one line to an order; what was done is owed again."""
    require(by, "own")
    order = locked_order(order)
    added = add_lines(order, [line])[0]
    move(order, {})
    pass_move_on(order, {})
    _log_lines(order, f"Line added: {added.title}", by, now, client_id)
    return order


@once(words.EntryKind.CHANGED, first=order_of)
def change_line(
    *,
    by: Person,
    line: OrderLine,
    version: int,
    now: datetime,
    client_id: str | None = None,
    **fields: Any,
) -> Order:
    """Change one line; never below what has come of it. `version` is the order's."""
    require(by, "own")
    order = locked_order(line.order)
    refuse_moved(order, version)
    line = order.lines.get(pk=line.pk)
    now_said = {name: getattr(line, name) for name in _LINE_FIELDS}
    changed = _checked_line(now_said | dict(fields), line.number)
    come = balance(line).accepted_milli
    if changed["quantity_milli"] < come:
        raise BadInput(
            f"{line.title}: {quantity_words(line, come)} have come already; "
            "take them back first.",
            field="quantity_milli",
        )
    for name, value in changed.items():
        setattr(line, name, value)
    line.save(update_fields=list(changed))
    move(order, {})
    pass_move_on(order, {})
    _log_lines(order, f"Line changed: {line.title}", by, now, client_id)
    return order


def add_lines(order: Order, lines: Sequence[Mapping[str, Any]]) -> list[OrderLine]:
    """Make the lines of an order, numbered on from those it has."""
    first = max((line.number for line in order.lines.all()), default=0) + 1
    if first + len(lines) - 1 > MOST_LINES:
        raise BadInput(f"An order has at most {MOST_LINES} lines.", field="lines")
    return [
        OrderLine.objects.create(
            order=order, number=place, **_checked_line(line, place)
        )
        for place, line in enumerate(lines, start=first)
    ]


def _checked_line(line: Mapping[str, Any], place: int) -> dict[str, Any]:
    if unknown := sorted(set(line) - _LINE_FIELDS):
        raise BadInput(f"An order line has no {unknown[0]}.", field=unknown[0])
    name = f"Line {place}"
    unit, hand = line.get("unit", words.Unit.PIECE), line.get("hand", words.Hand.NONE)
    if unit not in list(words.Unit):
        raise BadInput(f"{name}: “{unit}” is no unit.", field="unit")
    if hand not in list(words.Hand):
        raise BadInput(f"{name}: “{hand}” is no hand; L, R or none.", field="hand")
    milli = number(
        line.get("quantity_milli", 0), field="quantity_milli", label=f"{name}, quantity"
    )
    if not milli:
        raise BadInput(
            f"{name}: an order line is for more than nothing.", field="quantity_milli"
        )
    if unit == words.Unit.PIECE and milli % 1000:
        raise BadInput(
            f"{name}: pieces come whole; use m, m², g or ml for a part of one.",
            field="quantity_milli",
        )
    return {
        "title": some_line(line.get("title", ""), field="title", label=name, most=160),
        "quantity_milli": milli,
        "unit": unit,
        "hand": hand,
        "component": line.get("component"),
    }


def _log_lines(
    order: Order, text: str, by: Person, now: datetime, client_id: str | None
) -> None:
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        client_id=client_id,
        order=order,
        text=text,
    )
