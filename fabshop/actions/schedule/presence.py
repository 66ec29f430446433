"""When somebody is in besides the bench hours, and which task sends an order off."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from itertools import pairwise

from django.db import transaction

from fabshop import words
from fabshop.actions.log import write_entry
from fabshop.actions.shop import require
from fabshop.errors import BadInput
from fabshop.records.order import Order
from fabshop.records.schedule import Presence
from fabshop.records.shop import Person
from fabshop.records.task import Task

_A_DAY = 24 * 60
_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")

Minutes = tuple[int, int, int]
"""A weekday, Monday 0, and from and to as minutes of the day."""


@transaction.atomic
def set_presence(*, by: Person, rows: Sequence[Minutes], now: datetime) -> None:
    """Say anew when somebody is in who can start a run, for each weekday."""
    require(by, "own")
    for weekday, begins, ends in rows:
        if not 0 <= weekday <= 6:
            raise BadInput(f"Weekday: {weekday} is none; Monday is 0.", field="weekday")
        if not 0 <= begins < ends <= _A_DAY:
            raise BadInput(
                f"{_DAYS[weekday]}: must end after it begins, on the same day.",
                field="to",
            )
    told = sorted(set(rows))
    for (day, begins, _), (other, again, _) in pairwise(told):
        if (day, begins) == (other, again):
            raise BadInput(
                f"{_DAYS[day]}: two of the times begin at once; keep the longer one.",
                field="from",
            )
    Presence.objects.all().delete()
    Presence.objects.bulk_create(
        Presence(weekday=weekday, from_minute=begins, to_minute=ends)
        for weekday, begins, ends in told
    )
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        text=f"Somebody is in besides bench hours: {len(told)} times a week",
    )


@transaction.atomic
def set_sent_with(
    *, by: Person, order: Order, task: Task | None, now: datetime
) -> Order:
    """Say which task ends with sending the order off; its lead days follow that."""
    require(by, "own")
    if task is not None and task.state == words.TaskState.GIVEN_UP:
        raise BadInput(f"{task} is given up; name an open task.", field="sent_with")
    order.sent_with = task
    order.save(update_fields=["sent_with"])
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        order=order,
        text=f"{order} goes off with {task}" if task else f"{order} waits for no task",
    )
    return order


@transaction.atomic
def set_may_help(*, by: Person, task: Task, may_help: bool, now: datetime) -> Task:
    """Say whether a helper may do a task in the owner's place."""
    require(by, "own")
    if task.may_help != may_help:
        task.may_help = may_help
        task.save(update_fields=["may_help"])
        write_entry(
            kind=words.EntryKind.CHANGED,
            by=by,
            now=now,
            task=task,
            text="A helper may do it" if may_help else "Only the owner does it",
        )
    return task
