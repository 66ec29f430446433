"""The shop's calendar as facts: windows as spans, and the days out of the ordinary."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from fabshop import words
from fabshop.reckoning.facts import BuildFact, DayFact, Span
from fabshop.records.shop import Day, Window
from fabshop.snapshot.clock import Clock

# A digest looks back so far from pack-out, and no further, whenever it is taken.
DAYS_BEFORE_PACK_OUT = 90


@dataclass(frozen=True)
class Calendar:
    windows: tuple[Span, ...]
    past_windows: tuple[Span, ...]
    helper_windows: tuple[tuple[str, Span], ...]
    days: tuple[DayFact, ...]


def calendar(builds: tuple[BuildFact, ...], clock: Clock, now: datetime) -> Calendar:
    """All hours that are not over, and those before them that a digest needs.

    The owner's hours are those of every active owner; a helper's stand by name.
    `now` is on the plan's clock.
    """
    from_on = _reaches_back_to(builds, now.date())
    mine: list[Span] = []
    helpers: list[tuple[str, Span]] = []
    rows = Window.objects.filter(on__gte=from_on, person__is_active=True)
    for on, from_minute, to_minute, name, role in rows.values_list(
        "on", "from_minute", "to_minute", "person__name", "person__role"
    ):
        start, end = clock.on_wall(on, from_minute), clock.on_wall(on, to_minute)
        if end <= start:  # swallowed by a clock that jumps ahead
            continue
        if role == words.Role.OWNER:
            mine.append(Span(start, end))
        elif role == words.Role.HELPER and end > now:
            helpers.append((name, Span(start, end)))
    return Calendar(
        windows=tuple(span for span in mine if span.end > now),
        past_windows=tuple(span for span in mine if span.end <= now),
        helper_windows=tuple(helpers),
        days=_days(from_on, clock),
    )


def _reaches_back_to(builds: tuple[BuildFact, ...], today: date) -> date:
    ends = [build.pack_out.date() for build in builds if build.pack_out]
    back = timedelta(days=DAYS_BEFORE_PACK_OUT)
    return min([today, *(end - back for end in ends)])


def _days(from_on: date, clock: Clock) -> tuple[DayFact, ...]:
    return tuple(
        DayFact(
            on=day.on,
            is_off=day.is_off,
            has_deliveries=day.has_deliveries,
            may_run_machines=day.may_run_machines,
            quiet_until=None
            if day.quiet_until_minute is None
            else clock.on_wall(day.on, day.quiet_until_minute),
        )
        for day in Day.objects.filter(on__gte=from_on)
    )
