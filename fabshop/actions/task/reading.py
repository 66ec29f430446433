"""Readings of a hold: taken by anybody who writes, checked before it is signed."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal

from fabshop import words
from fabshop.actions.log.entry import new_client_id, once, write_entry
from fabshop.actions.shop import require
from fabshop.errors import BadInput, FieldError
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.task import Reading, ReadingTaken, Task

# What the column holds: twelve digits, four of them behind the point.
_MOST = Decimal("99999999.9999")
_STEP = Decimal("0.0001")


def _taken_first(entry: LogEntry) -> ReadingTaken:
    return ReadingTaken.objects.get(client_id=entry.client_id)


@once(words.EntryKind.HOLD, first=_taken_first)
def take_reading(
    *,
    by: Person,
    reading: Reading,
    value: Decimal | int | bool,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
) -> ReadingTaken:
    """Keep a tick (1, or 0 for none) or a figure, inside its bounds or not."""
    require(by, "write")
    figure = Decimal(value)
    if not figure.is_finite() or abs(figure) > _MOST:
        raise BadInput(f"{reading.label}: {value} is no figure.", field="value")
    if reading.kind == words.ReadingKind.TICK and figure not in (0, 1):
        raise BadInput(
            f"{reading.label}: a tick is 1 and no tick is 0, not {value}.",
            field="value",
        )
    key = client_id or new_client_id()
    figure = figure.quantize(_STEP)
    write_entry(
        kind=words.EntryKind.HOLD,
        by=by,
        now=now,
        at=at,
        client_id=key,
        task=reading.task,
        text=f"{reading.label}: {_shown(reading, figure)}",
    )
    return ReadingTaken.objects.create(
        reading=reading, value=figure, person=by, at=at or now, client_id=key
    )


def refuse_unread(task: Task) -> None:
    """Refuse where a reading is missing since the last fail, or out of its bounds."""
    fails = task.signings.filter(verdict=words.HoldVerdict.FAILED, is_taken_back=False)
    taken = ReadingTaken.objects.filter(reading__task=task).order_by("at", "id")
    if last_fail := fails.order_by("at").last():
        taken = taken.filter(at__gt=last_fail.at)
    latest = {one.reading_id: one.value for one in taken}
    errors = tuple(
        FieldError(f"reading-{reading.number}", trouble)
        for reading in task.readings.all()
        if (trouble := _trouble(reading, latest.get(reading.pk)))
    )
    if errors:
        raise BadInput(
            " ".join(error.message for error in errors),
            field=errors[0].field,
            errors=errors,
        )


def _trouble(reading: Reading, value: Decimal | None) -> str:
    """What is wrong with the latest figure of a reading; "" where nothing is."""
    if value is None:
        return f"{reading.label}: not taken yet."
    if reading.kind == words.ReadingKind.TICK:
        return "" if value else f"{reading.label}: not ticked."
    seen = _shown(reading, value)
    if reading.low is not None and value < reading.low:
        return f"{reading.label}: {seen} is below {_shown(reading, reading.low)}."
    if reading.high is not None and value > reading.high:
        return f"{reading.label}: {seen} is above {_shown(reading, reading.high)}."
    return ""


def _shown(reading: Reading, value: Decimal) -> str:
    if reading.kind == words.ReadingKind.TICK:
        return "ticked" if value else "not ticked"
    figure = f"{value:f}"
    if "." in figure:
        figure = figure.rstrip("0").rstrip(".")
    return f"{figure} {reading.unit}".rstrip()
