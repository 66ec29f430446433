"""A task while its definition is acted on: as it was read, and found again."""

from __future__ import annotations

from fabshop.errors import Clash
from fabshop.records.log import LogEntry
from fabshop.records.task import Task


def task_of(entry: LogEntry) -> Task:
    """The first answer of actions that answer with their task."""
    if entry.task is None:
        raise Clash("This id was already used for something else.", field="client_id")
    return entry.task


def refuse_moved(task: Task, version: int) -> None:
    if task.version != version:
        raise Clash(
            f"{task} has changed since you read it. Look at it again; what you "
            "typed is kept.",
            code="has-moved",
        )
