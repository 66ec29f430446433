"""Trays of screws, nuts and ties put on the shelf, described and taken off it."""

from __future__ import annotations

from datetime import datetime

from fabshop import words
from fabshop.actions.log import once, write_entry
from fabshop.actions.shelf.locked import (
    locked,
    put_on_the_shelf,
    refuse_gone,
    refuse_moved,
    refuse_taken,
    tray_of,
)
from fabshop.actions.shop import require
from fabshop.actions.typed import code as fit_code
from fabshop.actions.typed import one_line, some_line
from fabshop.errors import BadInput
from fabshop.records.shelf import Tray
from fabshop.records.shop import Person


@once(words.EntryKind.SHELF, first=tray_of)
def add_tray(
    *,
    by: Person,
    code: str,
    size: str,
    now: datetime,
    kind: words.TrayKind | str = words.TrayKind.SCREW,
    is_single_use: bool = False,
    quantity_milli: int = 0,
    place: str = "",
    note: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> Tray:
    """Put a tray of one size on the shelf, with how many lie in it now."""
    require(by, "write")
    code = fit_code(code)
    refuse_taken(code)
    if kind not in list(words.TrayKind):
        known = ", ".join(word.label for word in words.TrayKind)
        raise BadInput(f"Kind: “{str(kind)[:20]}” is none of {known}.", field="kind")
    tray = Tray(
        code=code,
        size=_size(size),
        kind=kind,
        is_single_use=is_single_use,
        place=one_line(place, field="place", label="Place", most=60),
        note=one_line(note, field="note", label="Note", most=160),
    )
    put_on_the_shelf(tray, quantity_milli, by=by, now=now, at=at, client_id=client_id)
    return tray


@once(words.EntryKind.SHELF, first=tray_of)
def change_tray(
    *,
    by: Person,
    tray: Tray,
    now: datetime,
    version: int | None = None,
    size: str | None = None,
    place: str | None = None,
    note: str | None = None,
    is_single_use: bool | None = None,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Tray:
    """Say where a tray stands now, or what is in it."""
    require(by, "write" if size is None and is_single_use is None else "own")
    tray = locked(tray)
    refuse_gone(tray)
    refuse_moved(tray, version)
    if size is not None:
        tray.size = _size(size)
    if place is not None:
        tray.place = one_line(place, field="place", label="Place", most=60)
    if note is not None:
        tray.note = one_line(note, field="note", label="Note", most=160)
    if is_single_use is not None:
        tray.is_single_use = is_single_use
    tray.version += 1
    tray.save()
    write_entry(
        kind=words.EntryKind.SHELF,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        text=f"{tray}: stands in {tray.place or 'no place'}",
        before={"tray": tray.pk},
    )
    return tray


@once(words.EntryKind.SHELF, first=tray_of)
def retire_tray(
    *,
    by: Person,
    tray: Tray,
    why: str,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Tray:
    """Take a tray off the shelf for good; its history and its code stay."""
    require(by, "own")
    tray = locked(tray)
    refuse_gone(tray)
    tray.retired_at = at or now
    tray.retired_why = some_line(why, field="why", label="Why", most=160)
    tray.save(update_fields=["retired_at", "retired_why"])
    write_entry(
        kind=words.EntryKind.SHELF,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        text=f"Gone from the shelf: {tray.code}, {tray.retired_why}",
        before={"tray": tray.pk, "shelf_retired": "tray"},
    )
    return tray


def _size(text: str) -> str:
    """Sizes are written with one sign between them, however they were typed."""
    return some_line(text, field="size", label="Size", most=40).replace("x", "×")
