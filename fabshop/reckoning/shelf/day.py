"""The day on which each unfinished task is to be done, as far as anybody knows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime

from fabshop.reckoning.facts import Facts
from fabshop.reckoning.readiness import TaskReady, readiness
from fabshop.reckoning.readiness.due import latest_starts
from fabshop.reckoning.readiness.waits import waits_for


@dataclass(frozen=True)
class PlannedDay:
    """When a task is done: by its plan, else on the first day on which it can be.

    `late_on` is that day with every parcel late, `by_on` the last day to begin it.
    None: nobody knows.
    """

    on: date | None = None
    late_on: date | None = None
    by_on: date | None = None
    is_planned: bool = False


def planned_days(
    facts: Facts,
    planned: Mapping[str, datetime] | None = None,
    ready: Mapping[str, TaskReady] | None = None,
) -> dict[str, PlannedDay]:
    """The day of every unfinished task; what a plan says of a task counts first.

    `planned` names the moment at which a plan begins a task: an accepted teardown's
    steps, or the shop's own plan. `ready` is what `readiness` said, where it was asked
    already.
    """
    planned = planned or {}
    waits = waits_for(facts)
    starts = latest_starts(facts, waits, planned=planned)
    days = {}
    for name, stand in (ready or readiness(facts)).items():
        start = starts.get(name)
        by_on = start.date() if start else None
        # A plan that has slipped into the past is no day to use anything on.
        at = planned.get(name)
        if at is not None:
            on = max(at.date(), facts.now.date())
            days[name] = PlannedDay(on, on, by_on, is_planned=True)
            continue
        free, late = stand.free_at, stand.free_late
        days[name] = PlannedDay(
            free.date() if free else None, late.date() if late else None, by_on
        )
    return days
