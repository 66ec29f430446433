"""What a task comes after; a loop is refused and said in words, the shortest one."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable
from datetime import datetime

from fabshop import words
from fabshop.actions.log.entry import once, write_entry
from fabshop.actions.log.timer import locked_task
from fabshop.actions.moved import move
from fabshop.actions.shop import require
from fabshop.actions.task.locked import task_of
from fabshop.errors import BadInput, Clash
from fabshop.records.shop import Person, Shop
from fabshop.records.task import After, Task


@once(words.EntryKind.CHANGED, first=task_of)
def set_after(
    *,
    by: Person,
    task: Task,
    after: Iterable[Task | str],
    now: datetime,
    client_id: str | None = None,
) -> Task:
    """Say all that `task` comes after, by task or code."""
    require(by, "own")
    _one_at_a_time()
    task = locked_task(task)
    befores = put_after(task, after)
    move(task, {})
    names = " ".join(before.code for before in befores)
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        client_id=client_id,
        task=task,
        text=f"After {names}" if names else "After nothing",
    )
    return task


def put_after(task: Task, after: Iterable[Task | str]) -> list[Task]:
    """Replace what `task` comes after; refuse one that would close a loop."""
    befores = _known(after)
    _one_at_a_time()
    if task in befores:
        raise BadInput(f"{task.code} cannot come after itself.", field="after")
    before_of: dict[int, list[int]] = {}
    for row in After.objects.exclude(task=task):
        before_of.setdefault(row.task_id, []).append(row.before_id)
    before_of[task.pk] = [before.pk for before in befores]
    if loop := _shortest_loop(task.pk, before_of):
        codes = dict(Task.objects.filter(pk__in=loop).values_list("pk", "code"))
        raise Clash(
            "That would be a loop: "
            + " comes after ".join(codes[pk] for pk in loop)
            + ". Leave one of these out.",
            field="after",
            code="loop",
        )
    task.afters.exclude(before__in=befores).delete()
    known = set(task.afters.values_list("before_id", flat=True))
    After.objects.bulk_create(
        After(task=task, before=before) for before in befores if before.pk not in known
    )
    return befores


def _one_at_a_time() -> None:
    # A loop may be closed by two people who each add half of it.
    Shop.objects.select_for_update(no_key=True).first()


def _known(after: Iterable[Task | str]) -> list[Task]:
    found: dict[int, Task] = {}
    for one in after:
        task = one if isinstance(one, Task) else Task.objects.filter(code=one).first()
        if task is None:
            raise BadInput(f"There is no task {one}.", field="after")
        found[task.pk] = task
    return sorted(found.values(), key=lambda task: task.code)


def _shortest_loop(start: int, before_of: dict[int, list[int]]) -> list[int]:
    """The shortest way from `start` through what comes before it back to itself."""
    came_from: dict[int, int] = {}
    ahead = deque([start])
    while ahead:
        here = ahead.popleft()
        for before in before_of.get(here, []):
            if before == start:
                loop = [start, here]
                while loop[-1] != start:
                    loop.append(came_from[loop[-1]])
                return loop[::-1]
            if before not in came_from:
                came_from[before] = here
                ahead.append(before)
    return []
