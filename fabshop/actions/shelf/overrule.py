"""The owner lets one task use what has gone off; the reason stays on its sheets."""

from __future__ import annotations

from datetime import datetime

from fabshop import words
from fabshop.actions.expired import is_gone_off, shop_day
from fabshop.actions.log import once, write_entry
from fabshop.actions.log.entry import new_client_id
from fabshop.actions.shelf.locked import locked, refuse_gone
from fabshop.actions.shop import require
from fabshop.actions.typed import some_line
from fabshop.errors import Clash
from fabshop.reckoning.shelf import last_good_day
from fabshop.records.log import LogEntry
from fabshop.records.shelf import Consumable, ShelfWaiver
from fabshop.records.shop import Person
from fabshop.records.task import Task
from fabshop.snapshot.shelf import consumable_facts
from fabshop.units import show_day


def _waiver_of(entry: LogEntry) -> ShelfWaiver:
    waivers = ShelfWaiver.objects.select_related("consumable", "task")
    return waivers.get(pk=entry.before["shelf_waiver"])


@once(words.EntryKind.OVERRULED, first=_waiver_of)
def let_through(
    *,
    by: Person,
    consumable: Consumable,
    task: Task,
    reason: str,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
) -> ShelfWaiver:
    """Overrule a last good day that has passed, for one task and with a reason.

    It holds for this day of this lot alone: another lot with another day is held anew.
    """
    require(by, "own")
    thing: Consumable = locked(consumable)
    refuse_gone(thing)
    fact = consumable_facts(Consumable.objects.filter(pk=thing.pk))[0]
    last_on = last_good_day(fact)
    if last_on is None or not is_gone_off(fact, shop_day(at or now)):
        raise Clash(f"{thing} has not gone off: there is nothing to overrule.")
    reason = some_line(reason, field="reason", label="Reason", most=200)
    client_id = client_id or new_client_id()
    waiver = ShelfWaiver.objects.create(
        consumable=thing,
        task=task,
        last_good_on=last_on,
        reason=reason,
        person=by,
        at=at or now,
        client_id=client_id,
    )
    write_entry(
        kind=words.EntryKind.OVERRULED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        task=task,
        text=f"{thing}, gone off {show_day(last_on)}, is used all the same: {reason}",
        before={"shelf_waiver": waiver.pk},
    )
    return waiver
