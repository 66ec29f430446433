"""What the owner decides on a task: given up, opened again, done another way."""

from __future__ import annotations

from datetime import datetime

from fabshop import words
from fabshop.actions.log.entry import once, write_entry
from fabshop.actions.log.timer import locked_task, refuse_finished
from fabshop.actions.moved import Before, move
from fabshop.actions.shop import require
from fabshop.actions.stock.hold import release_of_task
from fabshop.actions.task.finish import is_passed
from fabshop.actions.task.hold import fail
from fabshop.actions.task.locked import task_of
from fabshop.errors import Clash, NeedsAnswer
from fabshop.reckoning.goal import Goal, goals
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.task import Fallback, Task
from fabshop.snapshot import take_whole
from fabshop.units import show_minutes, show_moment


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
    if let_go := release_of_task(task, at or now):
        before["let_go"] = let_go
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
    confirm: bool = False,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Fallback:
    """Take a lesser way for a task, or (`chosen` False) go back to its final one.

    A way that does not fit the hours left any more asks first, and offers another.
    """
    require(by, "own")
    task = locked_task(fallback.task)
    refuse_finished(task)
    way = task.fallbacks.get(pk=fallback.pk)
    if chosen and not confirm:
        _ask_if_too_late(task, way, now)
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


def _ask_if_too_late(task: Task, way: Fallback, now: datetime) -> None:
    facts = take_whole(now)
    ways = [goal for goal in goals(facts) if goal.task == task.code]
    late = [goal for goal in ways if goal.is_too_late and goal.plan_b == way.title]
    if not late:
        return
    first = late[0]
    needs = show_minutes(first.plan_b_minutes) if first.plan_b_minutes else "no work"
    began = "the hours left do not hold that"
    if first.last_switch is not None:
        began = f"its last moment was {show_moment(first.last_switch)}"
    raise NeedsAnswer(
        f"{way.title}: no longer possible, needs {needs}; {began}. {_next(ways)} "
        "Take it all the same?",
        field="confirm",
        code="too-late",
    )


def _next(ways: list[Goal]) -> str:
    """The next way that is still possible, the one worth most first."""
    left = [goal for goal in ways if not goal.is_too_late]
    if not left:
        return "No other Plan B of this task is possible either."
    best = max(left, key=lambda goal: goal.plan_b_points)
    until = f" until {show_moment(best.last_switch)}" if best.last_switch else ""
    return f"Next: {best.plan_b}, possible{until}."
