"""The shelf as facts: what is left, until when it is good, and who brings it."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime
from typing import Any

from django.db.models import QuerySet

from fabshop import words
from fabshop.reckoning.facts import ConsumableFact, Facts, TrayFact
from fabshop.reckoning.firm import firm_record
from fabshop.reckoning.readiness import TaskReady
from fabshop.reckoning.shelf import (
    PlannedDay,
    Stand,
    last_good_day,
    planned_days,
    stands,
)
from fabshop.records.shelf import Consumable, ShelfSupply, ShelfWaiver, Tray
from fabshop.snapshot.plan import accepted_plans


def consumable_facts(
    rows: QuerySet[Consumable] | None = None,
) -> tuple[ConsumableFact, ...]:
    """What is on the shelf, or these rows, in as many queries whatever their number."""
    rows = Consumable.objects.on_the_shelf() if rows is None else rows
    pks = rows.values("pk")
    found: list[Any] = list(Consumable.objects.filter(pk__in=pks).with_left())
    supplies = _supplies("consumable")
    let = _let()
    return tuple(_consumable(row, supplies[row.pk], let[row.pk]) for row in found)


def tray_facts(rows: QuerySet[Tray] | None = None) -> tuple[TrayFact, ...]:
    """The trays on the shelf, or these, in as many queries whatever their number."""
    rows = Tray.objects.on_the_shelf() if rows is None else rows
    found: list[Any] = list(Tray.objects.filter(pk__in=rows.values("pk")).with_left())
    supplies = _supplies("tray")
    return tuple(
        TrayFact(
            id=row.code,
            size=row.size,
            left_milli=int(row.left_milli),
            kind=words.TrayKind(row.kind),
            is_single_use=row.is_single_use,
            place=row.place,
            note=row.note,
            coming_milli=sum(_owed(supply) for supply in supplies[row.pk]),
        )
        for row in found
    )


def shelf_stands(
    facts: Facts,
    ready: Mapping[str, TaskReady] | None = None,
    *,
    only: tuple[ConsumableFact, ...] | None = None,
) -> tuple[Stand, ...]:
    """Every consumable, or `only` these, against the day each task is planned on."""
    things = consumable_facts() if only is None else only
    told = tuple(_by_its_record(thing, facts) for thing in things)
    return stands(told, facts, days_now(facts, ready))


def _by_its_record(thing: ConsumableFact, facts: Facts) -> ConsumableFact:
    """How long its firm takes at the latest: by the firm's record where it has one."""
    record = firm_record(facts, thing.firm)
    if record is None or thing.likely_days is None:
        return thing
    return replace(thing, lead_days=thing.likely_days + record.worst_days)


def days_now(
    facts: Facts, ready: Mapping[str, TaskReady] | None = None
) -> dict[str, PlannedDay]:
    """By the accepted teardowns where they say so, else as far as can be reckoned."""
    return planned_days(facts, accepted_plans(facts).planned, ready)


def _consumable(
    row: Any, supplies: list[ShelfSupply], let: list[tuple[date, str, str]]
) -> ConsumableFact:
    came = [(at, supply) for supply in supplies if (at := _came_at(supply))]
    order = max(came, key=lambda one: one[0])[1].line.order if came else None
    fact = ConsumableFact(
        id=row.code,
        name=row.name,
        unit=words.ShelfUnit(row.unit),
        left_milli=int(row.left_milli),
        lot=row.lot,
        is_opened=row.is_opened,
        opened_on=row.opened_on,
        use_by_on=row.use_by_on,
        opened_life_days=row.opened_life_days,
        is_lasting=row.is_lasting,
        place=row.place,
        hazard=words.Hazard(row.hazard),
        note=row.note,
        coming_milli=sum(_owed(supply) for supply in supplies),
        firm=order.supplier.name if order else "",
        lead_days=order.lead_late_days if order else None,
        likely_days=order.lead_likely_days if order else None,
    )
    # What was let through of an older lot says nothing of this one.
    last_on = last_good_day(fact)
    return replace(
        fact, let=tuple((task, why) for on, task, why in let if on == last_on)
    )


def _supplies(of: str) -> dict[int, list[ShelfSupply]]:
    found: dict[int, list[ShelfSupply]] = defaultdict(list)
    rows = (
        ShelfSupply.objects.filter(**{f"{of}__retired_at": None})
        .exclude(**{of: None})
        .select_related("line__order__supplier")
        .prefetch_related("line__receipts", "line__settlements")
    )
    for row in rows:
        found[getattr(row, f"{of}_id")].append(row)
    return found


def _let() -> dict[int, list[tuple[date, str, str]]]:
    """Who may use what has gone off, and why, as the last word on it stands."""
    found: dict[int, list[tuple[date, str, str]]] = defaultdict(list)
    rows = ShelfWaiver.objects.filter(
        is_taken_back=False, consumable__retired_at=None
    ).values_list("consumable_id", "last_good_on", "task__code", "reason")
    for pk, on, task, reason in rows:
        found[pk].append((on, task, reason))
    return found


def _came_at(supply: ShelfSupply) -> datetime | None:
    receipts = supply.line.receipts.all()
    return max((one.at for one in receipts if one.accepted_milli), default=None)


def _owed(supply: ShelfSupply) -> int:
    """What the line still owes, in thousandths of what lies on the shelf."""
    line = supply.line
    if line.order.given_up_at is not None:
        return 0
    came = sum(r.sign * r.accepted_milli for r in line.receipts.all())
    settled = sum(
        s.quantity_milli
        for s in line.settlements.all()
        if s.how != words.Settled.COMING and not s.is_taken_back
    )
    owed = max(0, line.quantity_milli - came - settled)
    return owed * supply.each_milli // 1000
