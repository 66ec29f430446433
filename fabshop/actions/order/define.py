"""Orders, made and changed by the owner."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import date, datetime
from typing import Any

from django.db import IntegrityError, transaction

from fabshop import words
from fabshop.actions.log.entry import once, write_entry
from fabshop.actions.moved import Before, move
from fabshop.actions.order.line import add_lines
from fabshop.actions.order.locked import locked_order, order_of, refuse_moved
from fabshop.actions.shop import require
from fabshop.actions.typed import code as fit_code
from fabshop.actions.typed import kept_text, number, one_line, some_line
from fabshop.errors import BadInput, Clash
from fabshop.records.build import Build
from fabshop.records.order import Order, Supplier
from fabshop.records.shop import Person

MOST_LEAD_DAYS = 3650
_LEADS = ("lead_early_days", "lead_likely_days", "lead_late_days")
_ORDER_FIELDS = {
    "title",
    "supplier",
    "build",
    "kind",
    "move",
    "file_name",
    "file_revision",
    "give_back_on",
    "note",
    *_LEADS,
}


@once(words.EntryKind.CHANGED, first=order_of)
def add_order(
    *,
    by: Person,
    code: str,
    supplier: Supplier,
    title: str,
    kind: words.OrderKind | str,
    now: datetime,
    lines: Sequence[Mapping[str, Any]] = (),
    lead: tuple[int | None, int | None, int | None] | None = None,
    build: Build | None = None,
    move: words.Move | str = words.Move.ME,
    lead_early_days: int | None = None,
    lead_likely_days: int | None = None,
    lead_late_days: int | None = None,
    file_name: str = "",
    file_revision: str = "",
    give_back_on: date | None = None,
    note: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> Order:
    """Add an order that is not sent yet, with its lines.

    `lead` is early, likely and late in one; the three single fields mean the same.
    """
    require(by, "own")
    early, likely, late = lead or (lead_early_days, lead_likely_days, lead_late_days)
    fields = _checked(
        {
            "title": title,
            "supplier": supplier,
            "build": build,
            "kind": kind,
            "move": move,
            "file_name": file_name,
            "file_revision": file_revision,
            "give_back_on": give_back_on,
            "note": note,
            "lead_early_days": early,
            "lead_likely_days": likely,
            "lead_late_days": late,
        }
    )
    _refuse_unordered_lead(early, likely, late)
    code = fit_code(code)
    try:
        with transaction.atomic():
            order = Order.objects.create(code=code, made_at=now, **fields)
    except IntegrityError:
        raise Clash(f"There is an order {code} already.", field="code") from None
    add_lines(order, lines)
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        order=order,
        text=f"Order added: {order}",
    )
    return order


@once(words.EntryKind.CHANGED, first=order_of)
def change_order(
    *,
    by: Person,
    order: Order,
    version: int,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
    **fields: Any,
) -> Order:
    """Change what is said of an order; refused where it has moved since `version`."""
    require(by, "own")
    order = locked_order(order)
    refuse_moved(order, version)
    changes = {
        name: value
        for name, value in _checked(fields).items()
        if getattr(order, name) != value
    }
    leads = [changes.get(name, getattr(order, name)) for name in _LEADS]
    _refuse_unordered_lead(*leads)
    if not changes:
        return order
    before: Before = {}
    # A supplier and a build are kept for the undo by their numbers.
    move(
        order,
        before,
        **{
            name + "_id" if name in ("supplier", "build") else name: getattr(
                value, "pk", value
            )
            for name, value in changes.items()
        },
    )
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        order=order,
        text="Changed: " + ", ".join(sorted(changes)).replace("_", " "),
        before=before,
    )
    return order


def _checked(fields: Mapping[str, Any]) -> dict[str, Any]:
    """The fields of an order, fit to be kept; the first that is not is refused."""
    if unknown := sorted(set(fields) - _ORDER_FIELDS):
        raise BadInput(f"An order has no {unknown[0]}.", field=unknown[0])
    good = dict(fields)
    if "title" in good:
        good["title"] = some_line(good["title"], field="title", label="What", most=160)
    if "kind" in good and good["kind"] not in list(words.OrderKind):
        raise BadInput(f"“{good['kind']}” is no kind of order.", field="kind")
    if "move" in good and good["move"] not in list(words.Move):
        raise BadInput(f"“{good['move']}” is nobody's move.", field="move")
    for name, label, most in (
        ("file_name", "File", 160),
        ("file_revision", "Revision", 12),
    ):
        if name in good:
            good[name] = one_line(good[name], field=name, label=label, most=most)
    if "note" in good:
        good["note"] = kept_text(good["note"])[0]
    for name in _LEADS:
        if good.get(name) is not None:
            number(good[name], field=name, label="Lead days", most=MOST_LEAD_DAYS)
    return good


def _refuse_unordered_lead(
    early: int | None, likely: int | None, late: int | None
) -> None:
    known = [days for days in (early, likely, late) if days is not None]
    if known != sorted(known):
        shown = " / ".join("—" if d is None else str(d) for d in (early, likely, late))
        raise BadInput(
            f"Lead days {shown}: early comes first, then likely, then late.",
            field="lead_likely_days",
        )
