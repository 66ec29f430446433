"""A thing on the shelf while it is acted on: locked, in figures, and found again."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.db import IntegrityError, transaction

from fabshop import words
from fabshop.actions.log import write_entry
from fabshop.actions.log.entry import new_client_id
from fabshop.actions.typed import MOST_NUMBER, number
from fabshop.errors import BadInput, Clash
from fabshop.records.build import Component
from fabshop.records.log import LogEntry
from fabshop.records.shelf import Consumable, ShelfMove, Tray
from fabshop.records.shop import Person
from fabshop.records.stock import Piece
from fabshop.records.task import Task
from fabshop.units import show_milli

Thing = Consumable | Tray


def locked(thing: Thing) -> Any:
    """The row, so that two who count at once do it one after the other."""
    kind = type(thing)
    return kind._default_manager.select_for_update(no_key=True).get(pk=thing.pk)


def left_of(thing: Thing) -> int:
    """What the record says is left, in thousandths; below nothing where miscounted."""
    kind: Any = type(thing)
    return int(kind.objects.with_left().get(pk=thing.pk).left_milli)


def refuse_gone(thing: Thing) -> None:
    if thing.retired_at is not None:
        raise Clash(
            f"{thing.code} is gone from the shelf: {thing.retired_why}.",
            code="is-retired",
        )


def refuse_moved(thing: Thing, version: int | None) -> None:
    if version is not None and thing.version != version:
        raise Clash(
            f"{thing} has changed since you read it. Look at it again; what you "
            "typed is kept.",
            code="has-moved",
        )


def refuse_taken(code: str) -> None:
    """One code is one thing, whether it lies on the shelf or on the rack."""
    for kind, name in ((Consumable, "consumable"), (Tray, "tray"), (Piece, "piece")):
        if kind._default_manager.filter(code=code).exists():
            raise Clash(
                f"There is or was a {name} {code} already; codes are not used again.",
                field="code",
            )


def amount(thing: Thing, milli: int) -> str:
    """145 g, 0.6 can; of a tray the plain figure."""
    sign = "−" if milli < 0 else ""
    unit = f" {thing.unit}" if isinstance(thing, Consumable) else ""
    return f"{sign}{show_milli(abs(milli))}{unit}"


def some(thing: Thing, milli: int, *, field: str = "quantity") -> int:
    """Return the quantity; refuse nothing, less, too much, and half a screw."""
    if milli <= 0:
        raise BadInput(
            f"Quantity: {amount(thing, milli)} of {thing.code}. Write more than 0.",
            field=field,
        )
    return fitting(thing, milli, field=field)


def fitting(thing: Thing, milli: int, *, field: str) -> int:
    if abs(milli) > MOST_NUMBER:
        raise BadInput(
            f"Quantity: {amount(thing, milli)} is more than can be.", field=field
        )
    is_counted = isinstance(thing, Tray) or thing.unit == words.ShelfUnit.PIECE
    if is_counted and milli % 1000:
        raise BadInput(
            f"Quantity: {show_milli(milli)} of {thing.code}. It is counted in whole "
            "pieces.",
            field=field,
        )
    return milli


def moved(
    thing: Thing,
    kind: words.MoveKind,
    change_milli: int,
    *,
    by: Person,
    now: datetime,
    entry_kind: words.EntryKind,
    text: str,
    at: datetime | None = None,
    client_id: str | None = None,
    task: Task | None = None,
    component: Component | None = None,
    **fields: Any,
) -> ShelfMove:
    """Write one move and its line of the log, under one id."""
    client_id = client_id or new_client_id()
    of = "consumable" if isinstance(thing, Consumable) else "tray"
    move = ShelfMove.objects.create(
        **{of: thing},
        kind=kind,
        change_milli=change_milli,
        task=task,
        component=component,
        person=by,
        at=at or now,
        client_id=client_id,
        **fields,
    )
    write_entry(
        kind=entry_kind,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        task=task,
        component=component,
        text=text,
        before={"shelf_move": move.pk},
    )
    return move


def consumable_of(entry: LogEntry) -> Consumable:
    return Consumable.objects.get(pk=entry.before["consumable"])


def tray_of(entry: LogEntry) -> Tray:
    return Tray.objects.get(pk=entry.before["tray"])


def move_of(entry: LogEntry) -> ShelfMove:
    moves = ShelfMove.objects.select_related("consumable", "tray", "task", "component")
    return moves.get(pk=entry.before["shelf_move"])


def put_on_the_shelf(
    thing: Thing,
    quantity_milli: int,
    *,
    by: Person,
    now: datetime,
    at: datetime | None,
    client_id: str | None,
) -> None:
    """Keep a new thing with what there is of it, and say so in the log."""
    number(quantity_milli, field="quantity", label="Quantity")
    fitting(thing, quantity_milli, field="quantity")
    try:
        with transaction.atomic():
            thing.save()
    except IntegrityError:
        refuse_taken(thing.code)
        raise
    kind = type(thing).__name__.lower()
    if quantity_milli:
        ShelfMove.objects.create(
            **{kind: thing},
            kind=words.MoveKind.CAME,
            change_milli=quantity_milli,
            person=by,
            at=at or now,
            client_id=new_client_id(),
        )
    write_entry(
        kind=words.EntryKind.SHELF,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        text=f"On the shelf: {thing}, {amount(thing, quantity_milli)}",
        before={kind: thing.pk},
    )
