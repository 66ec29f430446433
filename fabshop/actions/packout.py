"""What goes to the event: spares and where they lie, and what broke there."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from django.db import transaction

from fabshop import words
from fabshop.actions.log.entry import itself, once, write_entry
from fabshop.actions.shop import require
from fabshop.actions.typed import code as fit_code
from fabshop.actions.typed import number, one_line, some_line
from fabshop.errors import Clash
from fabshop.records.build import Component
from fabshop.records.log import LogEntry
from fabshop.records.packout import Spare, SpareFit
from fabshop.records.shop import Person

MOST_PIECES = 10_000


@transaction.atomic
def add_spare(
    *,
    by: Person,
    code: str,
    title: str,
    now: datetime,
    quantity: int = 1,
    place: str = "",
    test_minutes: int = 0,
    note: str = "",
    fits: Iterable[Component] = (),
) -> Spare:
    """Keep a spare that may serve any of the places it fits, on whatever build."""
    require(by, "own")
    code = fit_code(code)
    if Spare.objects.filter(code=code).exists():
        raise Clash(
            f"There is a spare {code} already; codes are never used again.",
            field="code",
        )
    spare = Spare.objects.create(
        code=code,
        title=some_line(title, field="title", label="Title", most=160),
        quantity=number(quantity, field="quantity", label="Quantity", most=MOST_PIECES),
        place=one_line(place, field="place", label="Place", most=60),
        test_minutes=number(
            test_minutes, field="test_minutes", label="Test minutes", most=MOST_PIECES
        ),
        note=one_line(note, field="note", label="Note", most=200),
    )
    _fit(spare, fits)
    write_entry(
        kind=words.EntryKind.CHANGED, by=by, now=now, text=f"Spare added: {spare}"
    )
    return spare


@transaction.atomic
def change_spare(
    *,
    by: Person,
    spare: Spare,
    now: datetime,
    quantity: int | None = None,
    place: str | None = None,
    fits: Iterable[Component] | None = None,
) -> Spare:
    """Say how many there are now, in which case they lie, or what they fit."""
    require(by, "own")
    spare = Spare.objects.select_for_update(no_key=True).get(pk=spare.pk)
    if quantity is not None:
        spare.quantity = number(
            quantity, field="quantity", label="Quantity", most=MOST_PIECES
        )
    if place is not None:
        spare.place = one_line(place, field="place", label="Place", most=60)
    spare.save(update_fields=["quantity", "place"])
    if fits is not None:
        spare.fits.all().delete()
        _fit(spare, fits)
    lies = f" in {spare.place}" if spare.place else ""
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        text=f"Spare {spare}: {spare.quantity}{lies}",
    )
    return spare


@once(words.EntryKind.BROKE, first=itself)
def broke(
    *,
    by: Person,
    component: Component,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
    text: str = "",
) -> LogEntry:
    """Log that a part broke: the next build's requirement, and never refused late."""
    require(by, "write")
    return write_entry(
        kind=words.EntryKind.BROKE,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        component=component,
        text=text,
    )


def _fit(spare: Spare, components: Iterable[Component]) -> None:
    for component in dict.fromkeys(components):
        SpareFit.objects.create(spare=spare, component=component)
