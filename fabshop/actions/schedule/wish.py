"""What must be had whatever it costs, and how that is taken back."""

from __future__ import annotations

from datetime import datetime

from fabshop import words
from fabshop.actions.log import once, write_entry
from fabshop.actions.log.timer import locked_task, refuse_finished
from fabshop.actions.shop import require
from fabshop.actions.task.locked import task_of
from fabshop.records.shop import Person
from fabshop.records.task import Task


@once(words.EntryKind.CHANGED, first=task_of)
def wish(
    *,
    by: Person,
    task: Task,
    now: datetime,
    wished: bool = True,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Task:
    """Must have it, in its final way; or (`wished` False) no longer.

    A Plan B taken before is taken back; what was done on it stays in the log.
    """
    require(by, "own")
    task = locked_task(task)
    refuse_finished(task)
    task.wished_at = (at or now) if wished else None
    task.save(update_fields=["wished_at"])
    if wished:
        task.fallbacks.update(chosen_at=None)
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        task=task,
        text="Must have it" if wished else "Must not be had at any price after all",
    )
    return task
