"""What the owner decides on a task: given up, opened again, done another way."""

from __future__ import annotations

from datetime import datetime

from fabshop import words
from fabshop.actions.log.entry import once, write_entry
from fabshop.actions.log.timer import locked_task, refuse_finished
from fabshop.actions.moved import Before, move
from fabshop.actions.shop import require
from fabshop.actions.task.finish import is_passed
from fabshop.actions.task.hold import fail
from fabshop.actions.task.locked import task_of
from fabshop.errors import Clash
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.task import Fallback, Task


@once(words.EntryKind.GIVEN_UP, first=task_of)
def give_up_task(
    *,
    by: Person,
    task: Task,
    now: datetime,
    text: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> Task:
    """Give a task up; what comes after it goes on without, and nothing is deleted."""
    require(by, "own")
    task = locked_task(task)
    refuse_finished(task)
    before: Before = {}
    move(task, before, state=words.TaskState.GIVEN_UP, done_at=at or now)
    write_entry(
        kind=words.EntryKind.GIVEN_UP,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        task=task,
        text=text,
        before=before,
    )
    return task


@once(words.EntryKind.REOPENED, first=task_of)
def reopen_task(
    *,
    by: Person,
    task: Task,
    now: datetime,
    text: str = "",
    at: datetime | None = None,
    client_id: str | None = None,
) -> Task:
    """Open a finished task again. A hold that was passed is to be signed anew.

    What it fitted stays as it sits; taking that off is another tap.
    """
    require(by, "write")
    task = locked_task(task)
    if task.state in (words.TaskState.OPEN, words.TaskState.UNDER_WAY):
        raise Clash(f"{task} is open already.")
    before: Before = {}
    if task.is_hold and is_passed(task):
        signing = fail(task, by=by, reason="Opened again.", now=now, at=at)
        fails = LogEntry.objects.get(client_id=signing.client_id)
        before["with"] = [fails.pk]
    else:
        opened = words.TaskState.OPEN
        move(task, before, state=opened, done_at=None, cured_at=None)
    write_entry(
        kind=words.EntryKind.REOPENED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        task=task,
        text=text,
        before=before,
    )
    return task


def _fallback_of(entry: LogEntry) -> Fallback:
    return Fallback.objects.get(pk=entry.before["fallback"])


@once(words.EntryKind.CHANGED, first=_fallback_of)
def choose_fallback(
    *,
    by: Person,
    fallback: Fallback,
    now: datetime,
    chosen: bool = True,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Fallback:
    """Take a lesser way for a task, or (`chosen` False) go back to its final one."""
    require(by, "own")
    task = locked_task(fallback.task)
    refuse_finished(task)
    way = task.fallbacks.get(pk=fallback.pk)
    task.fallbacks.exclude(pk=way.pk).update(chosen_at=None)
    way.chosen_at = (at or now) if chosen else None
    way.save(update_fields=["chosen_at"])
    move(task, {})
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        task=task,
        text=f"Plan B: {way.title}" if chosen else f"Not Plan B after all: {way.title}",
        before={"fallback": way.pk},
    )
    return way
