"""What must be ordered, and by what day, so that it is there when it is wanted."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from fabshop.reckoning.facts import ConsumableFact
from fabshop.reckoning.shelf.stand import Stand, Use, amount
from fabshop.units import show_day


@dataclass(frozen=True)
class ToOrder:
    """Some of one consumable: how much at least, for when, and the last day to order.

    `quantity_milli` None: nobody has said how much is wanted. `order_by` None: how
    long it takes is unknown, so it is for today.
    """

    thing: ConsumableFact
    quantity_milli: int | None
    needed_on: date | None
    order_by: date | None
    tasks: tuple[str, ...]
    is_for_today: bool

    @property
    def sentence(self) -> str:
        told = f"for {' '.join(self.tasks)}"
        if self.needed_on:
            told += f", wanted {show_day(self.needed_on)}"
        if self.quantity_milli:
            told = f"{amount(self.thing, self.quantity_milli)} at least, {told}"
        if not self.thing.firm:
            return f"{told}; who brings it and how long that takes is unknown"
        if self.thing.lead_days is None:
            return f"{told}; how long {self.thing.firm} takes is unknown"
        return f"{told}; {self.thing.firm} takes up to {self.thing.lead_days} days"


def to_order(found: Iterable[Stand], today: date) -> tuple[ToOrder, ...]:
    """What stock and what is on its way do not cover, the first to order first.

    What is past its day when a task wants it does not cover that task.
    """
    told = [one for stand in found if (one := _of(stand, today))]
    return tuple(sorted(told, key=lambda one: (one.order_by or date.min, one.thing.id)))


def _of(stand: Stand, today: date) -> ToOrder | None:
    wanting = _uncovered(stand)
    if not wanting:
        return None
    quantity = sum(milli for _, milli in wanting)
    needed_on = min((use.day.on for use, _ in wanting if use.day.on), default=None)
    lead, order_by = stand.thing.lead_days, None
    if lead is not None and needed_on is not None:
        order_by = needed_on - timedelta(days=lead)
    return ToOrder(
        thing=stand.thing,
        quantity_milli=quantity or None,
        needed_on=needed_on,
        order_by=order_by,
        tasks=tuple(use.task for use, _ in wanting),
        is_for_today=order_by is None or order_by <= today,
    )


def _uncovered(stand: Stand) -> list[tuple[Use, int]]:
    """The uses for which nothing good is left, and how much each of them lacks."""
    rest, coming = max(0, stand.thing.left_milli), stand.thing.coming_milli
    bad = {use.task for use in stand.too_late if not use.waived}
    lacking = []
    for use in stand.uses:
        asked = use.quantity_milli or 0
        had = 0 if use.task in bad else min(rest, asked)
        rest -= had
        brought = min(coming, asked - had)
        coming -= brought
        is_empty = use.quantity_milli is None and not (rest or coming)
        spoilt = use.quantity_milli is None and use.task in bad and not coming
        if asked - had - brought or is_empty or spoilt:
            lacking.append((use, asked - had - brought))
    return lacking
