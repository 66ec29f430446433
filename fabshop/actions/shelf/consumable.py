"""Consumables put on the shelf, opened, described and taken off it."""

from __future__ import annotations

from datetime import date, datetime
from typing import Any

from fabshop import words
from fabshop.actions.expired import shop_day
from fabshop.actions.log import once, write_entry
from fabshop.actions.shelf.locked import (
    consumable_of,
    locked,
    put_on_the_shelf,
    refuse_gone,
    refuse_moved,
    refuse_taken,
)
from fabshop.actions.shop import require
from fabshop.actions.typed import code as fit_code
from fabshop.actions.typed import number, one_line, some_line
from fabshop.errors import BadInput, Clash
from fabshop.records.shelf import Consumable
from fabshop.records.shop import Person
from fabshop.units import show_day

MOST_LIFE_DAYS = 7300


@once(words.EntryKind.SHELF, first=consumable_of)
def add_consumable(
    *,
    by: Person,
    code: str,
    name: str,
    unit: words.ShelfUnit | str,
    now: datetime,
    quantity_milli: int = 0,
    lot: str = "",
    is_opened: bool = False,
    opened_on: date | None = None,
    use_by_on: date | None = None,
    opened_life_days: int | None = None,
    is_lasting: bool = False,
    place: str = "",
    hazard: words.Hazard | str = "",
    note: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> Consumable:
    """Put something that is used up on the shelf, with what is there of it now."""
    require(by, "write")
    code = fit_code(code)
    refuse_taken(code)
    if unit not in list(words.ShelfUnit):
        known = ", ".join(word.label for word in words.ShelfUnit)
        raise BadInput(f"Unit: “{str(unit)[:20]}” is none of {known}.", field="unit")
    thing = Consumable(code=code, unit=unit)
    _describe(
        thing,
        today=shop_day(at or now),
        name=name,
        lot=lot,
        is_opened=is_opened or opened_on is not None,
        opened_on=opened_on,
        use_by_on=use_by_on,
        opened_life_days=opened_life_days,
        is_lasting=is_lasting,
        place=place,
        hazard=hazard,
        note=note,
    )
    put_on_the_shelf(thing, quantity_milli, by=by, now=now, at=at, client_id=client_id)
    return thing


@once(words.EntryKind.SHELF, first=consumable_of)
def change_consumable(
    *,
    by: Person,
    consumable: Consumable,
    now: datetime,
    version: int | None = None,
    at: datetime | None = None,
    client_id: str | None = None,
    **said: Any,
) -> Consumable:
    """Say something else of it: name, lot, dates, place, note, what it can do.

    The dates of what tasks use are the owner's to say; a helper says where it lies
    and what is written on it as a note.
    """
    require(by, "write" if set(said) <= {"place", "note"} else "own")
    thing: Consumable = locked(consumable)
    refuse_gone(thing)
    refuse_moved(thing, version)
    _describe(thing, today=shop_day(at or now), **said)
    thing.version += 1
    thing.save()
    told = ", ".join(f"{_LABELS[name]} {_shown(getattr(thing, name))}" for name in said)
    write_entry(
        kind=words.EntryKind.SHELF,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        text=f"{thing.code}: {told or 'as it was'}",
        before={"consumable": thing.pk},
    )
    return thing


@once(words.EntryKind.SHELF, first=consumable_of)
def open_consumable(
    *,
    by: Person,
    consumable: Consumable,
    now: datetime,
    on: date | None = None,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Consumable:
    """Say that it was opened, today unless a day is named; its opened life begins."""
    require(by, "write")
    thing: Consumable = locked(consumable)
    refuse_gone(thing)
    if thing.opened_on is not None:
        raise Clash(
            f"{thing.code} was opened {show_day(thing.opened_on)} already. A fresh one "
            "is another lot: put it on the shelf as its own.",
            code="is-opened",
        )
    today = shop_day(at or now)
    _describe(thing, today=today, is_opened=True, opened_on=on or today)
    thing.version += 1
    thing.save()
    write_entry(
        kind=words.EntryKind.SHELF,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        text=f"Opened {show_day(on or today)}: {thing}",
        before={"consumable": thing.pk, "shelf_opened": thing.pk},
    )
    return thing


@once(words.EntryKind.SHELF, first=consumable_of)
def retire_consumable(
    *,
    by: Person,
    consumable: Consumable,
    why: str,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Consumable:
    """Take it off the shelf for good; its history and its code stay."""
    require(by, "own")
    thing: Consumable = locked(consumable)
    refuse_gone(thing)
    thing.retired_at = at or now
    thing.retired_why = some_line(why, field="why", label="Why", most=160)
    thing.save(update_fields=["retired_at", "retired_why"])
    write_entry(
        kind=words.EntryKind.SHELF,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        text=f"Gone from the shelf: {thing.code}, {thing.retired_why}",
        before={"consumable": thing.pk, "shelf_retired": "consumable"},
    )
    return thing


_LABELS = {
    "name": "Name",
    "lot": "Lot",
    "is_opened": "Opened",
    "opened_on": "Opened on",
    "use_by_on": "Use by",
    "opened_life_days": "Days it keeps opened",
    "is_lasting": "Does not go off",
    "place": "Place",
    "hazard": "Caution",
    "note": "Note",
}
_MOST = {"name": 120, "lot": 40, "place": 60, "note": 160}


def _describe(thing: Consumable, *, today: date, **said: Any) -> None:
    """Set what is said, refused by name where it cannot be."""
    if strange := set(said) - set(_LABELS):
        raise BadInput(f"{min(strange)}: there is nothing of that name to say.")
    for name, value in said.items():
        label = _LABELS[name]
        if name in _MOST:
            fit = some_line if name == "name" else one_line
            value = fit(value, field=name, label=label, most=_MOST[name])
        elif name == "hazard" and value not in list(words.Hazard):
            raise BadInput(f"{label}: “{str(value)[:20]}” is unknown.", field=name)
        elif name == "opened_life_days" and value is not None:
            number(value, field=name, label=label, most=MOST_LIFE_DAYS)
        setattr(thing, name, value)
    if thing.opened_on is not None:
        thing.is_opened = thing.is_opened or "is_opened" not in said
        if thing.opened_on > today:
            raise BadInput(
                f"Opened on: {show_day(thing.opened_on)} has not come yet.",
                field="opened_on",
            )
    if thing.opened_on is not None and not thing.is_opened:
        raise BadInput("Opened on: it is said not to be opened.", field="opened_on")
    if thing.is_lasting and thing.use_by_on is not None:
        raise BadInput(
            "Use by: it is said not to go off; say one or the other.",
            field="use_by_on",
        )


def _shown(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, date):
        return show_day(value)
    return "unknown" if value is None else str(value) or "none"
