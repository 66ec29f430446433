"""An order line that fills the shelf: what is booked in of it counts by itself."""

from __future__ import annotations

from datetime import datetime

from django.db import IntegrityError, transaction

from fabshop import words
from fabshop.actions.log import once, write_entry
from fabshop.actions.shelf.locked import Thing, locked, refuse_gone
from fabshop.actions.shop import require
from fabshop.actions.typed import number
from fabshop.errors import BadInput, Clash
from fabshop.records.log import LogEntry
from fabshop.records.order import OrderLine
from fabshop.records.shelf import Consumable, ShelfSupply
from fabshop.records.shop import Person
from fabshop.units import show_milli


def _supply_of(entry: LogEntry) -> ShelfSupply:
    supplies = ShelfSupply.objects.select_related("line__order", "consumable", "tray")
    return supplies.get(pk=entry.before["shelf_supply"])


@once(words.EntryKind.SHELF, first=_supply_of)
def fill_from_line(
    *,
    by: Person,
    line: OrderLine,
    thing: Thing,
    now: datetime,
    each_milli: int = 1000,
    at: datetime | None = None,
    client_id: str | None = None,
) -> ShelfSupply:
    """Say that an order line fills this; what was accepted of it already counts too."""
    require(by, "own")
    thing = locked(thing)
    refuse_gone(thing)
    number(each_milli, field="each", label="For each one")
    if not each_milli:
        raise BadInput("For each one: 0 fills nothing.", field="each")
    of = "consumable" if isinstance(thing, Consumable) else "tray"
    name = f"{line.order.code}/{line.number}"
    try:
        with transaction.atomic():
            supply = ShelfSupply.objects.create(
                line=line, each_milli=each_milli, **{of: thing}
            )
    except IntegrityError:
        raise Clash(f"{name} fills something already.", field="line") from None
    write_entry(
        kind=words.EntryKind.SHELF,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        order=line.order,
        text=f"{name} fills {thing}, {show_milli(each_milli)} for each one",
        before={"shelf_supply": supply.pk},
    )
    return supply
