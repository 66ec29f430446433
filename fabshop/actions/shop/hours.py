"""Hands-on hours at the bench, and what is out of the ordinary on a day."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from typing import Any

from django.db import transaction

from fabshop import words
from fabshop.actions.log.entry import write_entry
from fabshop.actions.shop.allowed import require
from fabshop.actions.typed import one_line
from fabshop.actions.wall import date_words as _day
from fabshop.errors import BadInput
from fabshop.records.shop import Day, Person, Window

MIDNIGHT = 24 * 60
# 20:00 to 02:00 is an evening that runs on; 17:00 to 09:00 is a slip of the thumb.
LONGEST_OVER_MIDNIGHT = 8 * 60
MOST_DAYS = 2 * 366
_FLAGS = ("is_off", "has_deliveries", "may_run_machines")
_WEEKDAYS = range(7)


@transaction.atomic
def add_window(
    *,
    by: Person,
    person: Person,
    on: date,
    from_minute: int,
    to_minute: int,
    note: str = "",
    now: datetime,
) -> tuple[Window, str]:
    """Add hours of a day; return them as they stand now, and a notice ("" = none).

    Hours that overlap or touch others of that person and day are merged with them.
    Hours that end the next morning (01:00, or 25:00) are split at midnight.
    """
    require(by, "own")
    note = one_line(note, field="note", label="Note", most=200)
    from_minute, to_minute = _minutes(from_minute, to_minute)
    over_midnight = to_minute > MIDNIGHT
    window, notice = _merged(person, on, from_minute, min(to_minute, MIDNIGHT), note)
    if over_midnight:
        rest, more = _merged(
            person, on + timedelta(days=1), 0, to_minute - MIDNIGHT, note
        )
        split = f"Split at midnight: until {_clock(rest.to_minute)} on {_day(rest.on)}."
        notice = " ".join(part for part in (split, notice, more) if part)
    _jot(
        by,
        now,
        f"Hours of {person.name}: {_day(on)} {_clock(from_minute)} to "
        f"{_clock(to_minute % MIDNIGHT if over_midnight else to_minute)}.",
    )
    return window, notice


@transaction.atomic
def remove_window(*, by: Person, window: Window, now: datetime) -> None:
    """Take hours out of the calendar; taking them out twice is harmless."""
    require(by, "own")
    gone, _ = Window.objects.filter(pk=window.pk).delete()
    if gone:
        _jot(
            by,
            now,
            f"No hours of {window.person.name}: {_day(window.on)} "
            f"{_clock(window.from_minute)} to {_clock(window.to_minute)}.",
        )


@transaction.atomic
def set_weekly_hours(
    *,
    by: Person,
    person: Person,
    pattern: dict[int, list[tuple[int, int]]],
    from_on: date,
    to_on: date,
    now: datetime,
) -> list[Window]:
    """Replace all hours of `person` between two days by the same every week.

    `pattern` holds from and to minutes by the day of the week, Monday 0.
    """
    require(by, "own")
    if to_on < from_on:
        raise BadInput(
            f"Until: {_day(to_on)} is before {_day(from_on)}.",
            field="to_on",
        )
    if (to_on - from_on).days >= MOST_DAYS:
        raise BadInput(
            f"Until: {_day(to_on)} is too far off; enter at most two years at a time.",
            field="to_on",
        )
    if not set(pattern) <= set(_WEEKDAYS):
        raise BadInput("Days of the week are 0 (Monday) to 6.", field="pattern")
    hours = {day: [_minutes(*span) for span in spans] for day, spans in pattern.items()}
    Window.objects.filter(person=person, on__range=(from_on, to_on)).delete()
    for number in range((to_on - from_on).days + 1):
        on = from_on + timedelta(days=number)
        for start, end in hours.get(on.weekday(), []):
            _merged(person, on, start, min(end, MIDNIGHT), "")
            if end > MIDNIGHT:
                _merged(person, on + timedelta(days=1), 0, end - MIDNIGHT, "")
    _jot(
        by,
        now,
        f"Weekly hours of {person.name}, {_day(from_on)} to {_day(to_on)}.",
    )
    return list(
        Window.objects.filter(
            person=person, on__range=(from_on, to_on + timedelta(days=1))
        )
    )


@transaction.atomic
def set_day(*, by: Person, on: date, now: datetime, **flags: Any) -> Day:
    """Say what is out of the ordinary on a day; what is not named stays.

    Flags: is_off, has_deliveries, may_run_machines, quiet_until_minute, note.
    """
    require(by, "own")
    given = {name: _flag(name, value) for name, value in flags.items()}
    day, _ = Day.objects.update_or_create(on=on, defaults=given)
    said = [
        text
        for is_so, text in (
            (day.is_off, "off"),
            (not day.has_deliveries, "no deliveries"),
            (not day.may_run_machines, "nothing left running"),
            (day.quiet_until_minute, f"quiet until {_clock(day.quiet_until_minute)}"),
        )
        if is_so
    ]
    _jot(by, now, f"{_day(on)}: {', '.join(said) or 'an ordinary day'}.")
    return day


def _merged(
    person: Person, on: date, from_minute: int, to_minute: int, note: str
) -> tuple[Window, str]:
    """Put one stretch of one day among those that are there."""
    others = list(
        Window.objects.select_for_update()
        .filter(
            person=person, on=on, from_minute__lte=to_minute, to_minute__gte=from_minute
        )
        .order_by("from_minute")
    )
    start = min([from_minute, *(other.from_minute for other in others)])
    end = max([to_minute, *(other.to_minute for other in others)])
    notes = dict.fromkeys(text for text in (*(o.note for o in others), note) if text)
    Window.objects.filter(pk__in=[other.pk for other in others]).delete()
    window = Window.objects.create(
        person=person,
        on=on,
        from_minute=start,
        to_minute=end,
        note="; ".join(notes)[:200],
    )
    if not others:
        return window, ""
    listed = ", ".join(
        f"{_clock(o.from_minute)} to {_clock(o.to_minute)}" for o in others
    )
    return window, (
        f"Merged with {listed}: now {_clock(start)} to {_clock(end)} on {_day(on)}."
    )


def _minutes(from_minute: int, to_minute: int) -> tuple[int, int]:
    """Check the hours; an end on the next morning is counted past 24:00."""
    if not 0 <= from_minute < MIDNIGHT:
        raise BadInput(
            f"From: minute {from_minute} is not within a day of {MIDNIGHT} minutes.",
            field="from_minute",
        )
    if not 0 <= to_minute <= 2 * MIDNIGHT:
        raise BadInput(
            f"To: minute {to_minute} is not within a day of {MIDNIGHT} minutes.",
            field="to_minute",
        )
    if to_minute <= from_minute:
        if to_minute + MIDNIGHT - from_minute > LONGEST_OVER_MIDNIGHT:
            raise BadInput(
                f"Hours end before they begin: {_clock(from_minute)} to "
                f"{_clock(to_minute)}. Swap them, or enter two days.",
                field="to_minute",
            )
        to_minute += MIDNIGHT
    if to_minute > from_minute + MIDNIGHT:
        raise BadInput(
            f"Hours from {_clock(from_minute)} would last more than a day.",
            field="to_minute",
        )
    return from_minute, to_minute


def _flag(name: str, value: Any) -> Any:
    if name in _FLAGS:
        return bool(value)
    if name == "note":
        return one_line(value, field="note", label="Note", most=200)
    if name != "quiet_until_minute":
        raise BadInput(f"A day has no “{name}”.", field=name)
    if value is not None and not 0 <= value <= MIDNIGHT:
        raise BadInput(f"Quiet until: minute {value} is not within a day.", field=name)
    return value


def _clock(minute: int | None) -> str:
    return "" if minute is None else f"{minute // 60:02}:{minute % 60:02}"


def _jot(by: Person, now: datetime, text: str) -> None:
    write_entry(kind=words.EntryKind.CHANGED, by=by, now=now, text=text)
