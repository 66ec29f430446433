"""What the shop's plan stands on besides the facts, and the plan that is kept."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

from fabshop import words
from fabshop.reckoning.facts import Besides, Facts, RunningFact, Span, StoreFact
from fabshop.records.overnight import Run
from fabshop.records.packout import Spare
from fabshop.records.schedule import Presence
from fabshop.records.shelf import Consumable
from fabshop.snapshot.clock import plan_clock
from fabshop.snapshot.fingerprint import fingerprint

_WITHOUT_PACK_OUT = timedelta(days=60)
_MOST_DAYS = 400


def besides(facts: Facts, now: datetime) -> Besides:
    """When somebody is in, and what is used up; a fixed number of queries."""
    clock = plan_clock(now)
    running = Run.objects.unsaid().select_related("task", "machine")
    return Besides(
        attended=attended(facts, now),
        stores=(*_spares(), *_shelf(facts)),
        running=tuple(
            RunningFact(run.task.code, run.machine.code, clock.to_plan(run.due_at))
            for run in running.order_by("begun_at", "pk")
        ),
    )


def stands_on(facts: Facts) -> dict[str, str]:
    """A short fingerprint of each task, order and day, to name what has changed.

    Not in it is what a plan's own progress changes: minutes booked, work begun.
    """
    told: dict[str, object] = {}
    for task in facts.tasks:
        done = task.is_finished
        told[task.id] = replace(
            task,
            state=words.TaskState.DONE if done else words.TaskState.OPEN,
            hold=task.hold if task.hold is words.HoldVerdict.FAILED else None,
            logged=0,
            cured_at=None,
            under_way_by=(),
        )
    for order in facts.orders:
        told[order.id] = replace(
            order,
            promises=tuple(replace(one, at=datetime.min) for one in order.promises),
            lines=tuple(replace(line, taken_milli=0) for line in order.lines),
        )
    for build in facts.builds:
        told[build.name] = build.pack_out
    for day in facts.days:
        if day.on >= facts.now.date():
            told[f"{day.on:%a} {day.on.day} {day.on:%b}"] = day
    hours: dict[str, list[object]] = {}
    for span in facts.windows:
        if span.start.date() > facts.now.date():
            on = span.start
            hours.setdefault(f"hours of {on:%a} {on.day} {on:%b}", []).append(span)
    told |= hours
    return {name: fingerprint(thing)[:12] for name, thing in told.items()}


def attended(facts: Facts, now: datetime) -> tuple[Span, ...]:
    """When somebody is in who could begin a run or look at it."""
    clock = plan_clock(now)
    rows = list(Presence.objects.values_list("weekday", "from_minute", "to_minute"))
    if not rows:
        return ()
    ends = [build.pack_out for build in facts.builds if build.pack_out]
    last = max(ends, default=facts.now + _WITHOUT_PACK_OUT).date()
    found = []
    on = facts.now.date()
    for _ in range(_MOST_DAYS):
        if on > last:
            break
        day = facts.day_by_date.get(on)
        if day is None or (day.may_run_machines and not day.is_off):
            for weekday, begins, ends_at in rows:
                if weekday == on.weekday():
                    low, high = clock.on_wall(on, begins), clock.on_wall(on, ends_at)
                    if low < high and high > facts.now:
                        found.append(Span(max(low, facts.now), high))
        on += timedelta(days=1)
    return tuple(sorted(found, key=lambda span: span.start))


def _spares() -> tuple[StoreFact, ...]:
    return tuple(
        StoreFact(
            id=spare.code,
            title=spare.title,
            amount_milli=spare.quantity * 1000,
            is_spare=True,
            test_minutes=spare.test_minutes,
        )
        for spare in Spare.objects.filter(retired_at=None)
    )


def _shelf(facts: Facts) -> tuple[StoreFact, ...]:
    """What is on the shelf; what is past its day already is held at use, not here."""
    found = []
    rows: list[Any] = list(Consumable.objects.on_the_shelf().with_left())
    for row in rows:
        days = [row.use_by_on] if row.use_by_on else []
        if row.opened_on and row.opened_life_days:
            days.append(row.opened_on + timedelta(days=row.opened_life_days))
        by = facts.moment_on(min(days) + timedelta(days=1), 0) if days else None
        found.append(
            StoreFact(
                id=row.code,
                title=row.name,
                amount_milli=max(0, int(row.left_milli)),
                unit=str(row.unit),
                use_by=by if by and by > facts.now else None,
            )
        )
    return tuple(found)
