"""Starts that come in late: marks beside what runs now, ended by their own stops."""

from __future__ import annotations

from datetime import datetime, timedelta

from fabshop import words
from fabshop.actions.log.entry import write_entry
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.task import Task

# What a phone kept longer than this cannot be asked about any more.
LATE = timedelta(minutes=2)
# Two taps of one hand on one key.
SAME_TAP = timedelta(minutes=1)


def is_late(at: datetime, now: datetime) -> bool:
    """Whether a tap comes in so long after it was made that nobody waits for it."""
    return now - at > LATE


def mark_start(
    *,
    by: Person,
    task: Task,
    now: datetime,
    at: datetime,
    client_id: str | None,
) -> LogEntry:
    """Write a start that came in late while another timer runs: it runs no timer.

    Its own stop is in the same outbox, or is tapped later and names the task.
    """
    return write_entry(
        kind=words.EntryKind.START,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        task=task,
        before={"timer": "marked"},
    )


def open_mark(by: Person, task: Task, at: datetime) -> LogEntry | None:
    """The latest start on `task` by then that runs no timer and that nothing ended."""
    ended = LogEntry.objects.filter(started_by__isnull=False, reversed_by=None)
    marks = LogEntry.objects.filter(
        kind=words.EntryKind.START,
        person=by,
        task=task,
        at__lte=at,
        running=None,
        reversed_by=None,
        before__timer="marked",
    ).exclude(pk__in=ended.values("started_by_id"))
    return marks.order_by("-at", "-pk").first()
