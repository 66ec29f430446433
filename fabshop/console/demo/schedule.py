"""The demo's presence besides bench hours, and which tasks send orders off."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from fabshop.actions.schedule import set_presence, set_sent_with
from fabshop.console.demo.anchor import table
from fabshop.records.order import Order
from fabshop.records.shop import Person
from fabshop.records.task import Task


def tell_schedule(owner: Person, at: datetime) -> None:
    told: dict[str, Any] = table("schedule")
    rows = [
        (weekday, _minute(row["from"]), _minute(row["to"]))
        for row in told["presence"]
        for weekday in row["weekdays"]
    ]
    set_presence(by=owner, rows=rows, now=at)
    for code, task in told["sent_with"].items():
        set_sent_with(
            by=owner,
            order=Order.objects.get(code=code),
            task=Task.objects.get(code=task),
            now=at,
        )


def _minute(text: str) -> int:
    hours, minutes = text.split(":")
    return 60 * int(hours) + int(minutes)
