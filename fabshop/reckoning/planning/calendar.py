"""The spans in which work, runs and noise are allowed, up to a horizon."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, time, timedelta

from fabshop.reckoning.facts import Facts, Span

_DAY = timedelta(days=1)


def merged(spans: Iterable[Span], start: datetime, end: datetime) -> tuple[Span, ...]:
    """In order, joined where they touch, cut to lie between start and end."""
    found: list[Span] = []
    for span in sorted(spans, key=lambda one: one.start):
        low, high = max(span.start, start), min(span.end, end)
        if high <= low:
            continue
        if found and low <= found[-1].end:
            found[-1] = Span(found[-1].start, max(found[-1].end, high))
        else:
            found.append(Span(low, high))
    return tuple(found)


def without(spans: tuple[Span, ...], cut: tuple[Span, ...]) -> tuple[Span, ...]:
    """What is left of the spans once the others are taken out."""
    found: list[Span] = []
    for span in spans:
        low = span.start
        for gap in cut:
            if gap.end <= low or gap.start >= span.end:
                continue
            if gap.start > low:
                found.append(Span(low, gap.start))
            low = max(low, gap.end)
        if low < span.end:
            found.append(Span(low, span.end))
    return tuple(found)


def nothing_running(
    facts: Facts, attended: tuple[Span, ...], end: datetime
) -> tuple[Span, ...]:
    """When no machine may be left running: nobody is there to see to it.

    Around a day marked so it is from the last moment before it at which somebody is
    in to the first moment after.
    """
    found = []
    for day in facts.days:
        if day.may_run_machines or day.on < facts.now.date():
            continue
        begins = facts.moment_on(day.on, 0)
        over = facts.moment_on(day.on + _DAY, 0)
        low = max((span.end for span in attended if span.end <= begins), default=None)
        high = min((span.start for span in attended if span.start >= over), default=end)
        if any(span.start < begins < span.end for span in attended):
            low = begins
        if (low or facts.now) < high:
            found.append(Span(max(low or facts.now, facts.now), high))
    return merged(found, facts.now, end)


def run_may_begin(
    nothing: tuple[Span, ...], minutes: int, start: datetime, end: datetime
) -> tuple[Span, ...]:
    """The spans in which a run of so many minutes may be begun."""
    length = timedelta(minutes=minutes)
    closed = tuple(Span(gap.start - length, gap.end) for gap in nothing)
    return without((Span(start, end),), merged(closed, start - length, end))


def loud(facts: Facts, end: datetime) -> tuple[Span, ...]:
    """When noise may be made: all the time but the quiet hours of some days."""
    quiet = [
        Span(facts.moment_on(day.on, 0), day.quiet_until)
        for day in facts.days
        if day.quiet_until and day.quiet_until > facts.moment_on(day.on, 0)
    ]
    whole = (Span(facts.now, end),) if facts.now < end else ()
    return without(whole, merged(quiet, datetime.combine(facts.now, time.min), end))
