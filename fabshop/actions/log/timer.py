"""Start and stop: a running timer is a start mark, one a person."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from fabshop import words
from fabshop.actions import wall
from fabshop.actions.expired import refuse_gone_off
from fabshop.actions.log.entry import itself, once, write_entry
from fabshop.actions.log.late import SAME_TAP, is_late, mark_start, open_mark
from fabshop.actions.moved import Before, move
from fabshop.actions.shop import require
from fabshop.actions.typed import number
from fabshop.actions.unaccepted import refuse_to_paint
from fabshop.errors import BadInput, Clash, NeedsAnswer
from fabshop.records.log import LogEntry, Timer
from fabshop.records.shop import Person
from fabshop.records.task import Task
from fabshop.units import show_minutes

# Past this nobody is believed to have gone on without saying so.
LONGEST_SESSION_MINUTES = 14 * 60
# A forgotten stop: more than 1.5 times the guess, and more than this.
SHORTEST_FORGOTTEN_MINUTES = 90


@once(words.EntryKind.START, first=itself)
def start_work(
    *,
    by: Person,
    task: Task,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
    join: bool = False,
    switch: bool = False,
    ended_at: datetime | None = None,
    confirm: bool = False,
) -> LogEntry:
    """Begin on a task. A second timer asks first; `switch` stops what is running.

    `ended_at` and `confirm` speak of the timer that is stopped, as in `stop_work`.
    A start that comes in late asks nothing: beside another timer of the same person
    it is a mark, and beside other people it joins them.
    """
    require(by, "write")
    at = at or now
    timer = running_timer(by)
    late = is_late(at, now)
    if timer is not None and timer.start.task_id == task.pk:
        is_same = abs(at - timer.start.at) < SAME_TAP
        if is_same or not late:
            return timer.start
    task = _locked_with(task, timer)
    refuse_finished(task)
    refuse_gone_off(task, at=at)
    refuse_to_paint(task)
    if timer is not None and late and not switch:
        return mark_start(by=by, task=task, now=now, at=at, client_id=client_id)
    if timer is not None and not switch:
        since = wall.clock(timer.start.at, beside=at)
        raise NeedsAnswer(
            f"You are still on {timer.start.task}, since {since}. "
            f"Stop that and start {task.code}?",
            field="switch",
            code="two-timers",
        )
    others = Timer.objects.filter(start__task=task).exclude(person=by)
    other = others.select_related("person", "start").first()
    if other is not None and not join and not late:
        began = wall.clock(other.start.at, beside=at)
        raise NeedsAnswer(
            f"{other.person} began {task.code} at {began}. Join, or another task?",
            field="join",
            code="somebody-is-on-it",
        )
    before: Before = {"timer": "started"}
    if timer is not None:
        stop = end_start(
            timer.start, by=by, now=now, at=at, ended_at=ended_at, confirm=confirm
        )
        before["with"] = [stop.pk]
    if task.state != words.TaskState.UNDER_WAY:
        move(task, before, state=words.TaskState.UNDER_WAY)
    start = write_entry(
        kind=words.EntryKind.START,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        task=task,
        before=before,
    )
    Timer.objects.create(person=by, start=start)
    return start


@once(words.EntryKind.STOP, first=itself)
def stop_work(
    *,
    by: Person,
    now: datetime,
    task: Task | None = None,
    at: datetime | None = None,
    client_id: str | None = None,
    minutes: int | None = None,
    ended_at: datetime | None = None,
    confirm: bool = False,
    text: str = "",
) -> LogEntry:
    """Stop what `by` is on (it must be `task`, where one is named) and book it.

    What is booked is the time on the clock, unless `minutes` are said. A session
    that looks forgotten asks, unless `ended_at` or `confirm` answers.
    """
    require(by, "write")
    timer = running_timer(by)
    start = _what_ends(timer, by, task, ended_at or at or now)
    if start is None and timer is None:
        raise Clash("Nothing is running, so there is nothing to stop.")
    if start is None:
        assert timer is not None
        raise Clash(f"You are on {timer.start.task}, not on {task}.")
    return end_start(
        start,
        by=by,
        now=now,
        at=at or now,
        client_id=client_id,
        minutes=minutes,
        ended_at=ended_at,
        confirm=confirm,
        text=text,
    )


def _what_ends(
    timer: Timer | None, by: Person, task: Task | None, at: datetime
) -> LogEntry | None:
    """The start that a stop at `at` ends: the latest by then, running or a mark."""
    if task is None:
        return timer.start if timer else None
    runs = timer.start if timer and timer.start.task_id == task.pk else None
    mark = open_mark(by, task, at)
    if runs is None or mark is None:
        return runs or mark
    return max(runs, mark, key=lambda start: (start.at <= at, start.at))


def running_timer(by: Person) -> Timer | None:
    """The timer of this person, with the person locked: one tap at a time.

    The person is locked before any task is, or two phones could wait for each other.
    """
    lock_person(by)
    timers = Timer.objects.select_related("start__task", "start__started_by")
    return timers.filter(person=by).first()


def lock_person(person: Person) -> None:
    Person.objects.select_for_update(no_key=True).get(pk=person.pk)


def locked_task(task: Task) -> Task:
    return Task.objects.select_for_update(no_key=True).get(pk=task.pk)


def _locked_with(task: Task, timer: Timer | None) -> Task:
    """`task` locked, and the task of `timer` too: in one order, whoever swaps."""
    both = {task.pk}
    if timer is not None and timer.start.task_id is not None:
        both.add(timer.start.task_id)
    locked = Task.objects.select_for_update(no_key=True).filter(pk__in=both)
    return {one.pk: one for one in locked.order_by("pk")}[task.pk]


def refuse_finished(task: Task) -> None:
    if task.state in (
        words.TaskState.DONE,
        words.TaskState.ACCEPTED,
        words.TaskState.GIVEN_UP,
    ):
        when = f" since {wall.clock(task.done_at)}" if task.done_at else ""
        raise Clash(
            f"{task} is {words.TaskState(task.state).label} already{when}.",
            code="is-finished",
        )


def end_start(
    start: LogEntry,
    *,
    by: Person,
    now: datetime,
    at: datetime,
    client_id: str | None = None,
    minutes: int | None = None,
    ended_at: datetime | None = None,
    confirm: bool = False,
    text: str = "",
) -> LogEntry:
    """Write the stop of a start; where its timer runs, that is taken away."""
    end = ended_at or at
    if start.at - SAME_TAP < end < start.at:
        # Two taps close together, each put right by a clock that was read anew.
        end = at = start.at
    _refuse_impossible_end(start, end, at, "at" if ended_at is None else "ended_at")
    elapsed = round_minutes(end - start.at)
    if minutes is not None:
        number(minutes, field="minutes", label="Minutes", most=100_000)
    asked = minutes if minutes is not None else elapsed
    if ended_at is None and not confirm:
        _ask_whether_forgotten(start, asked, at, said=minutes is not None)
    timer = Timer.objects.filter(start=start).first()
    before: Before = {"timer": "stopped" if timer else "mark-stopped"}
    task = start.task
    if timer is not None:
        timer.delete()
    if task is not None:
        task = locked_task(task)
        is_alone = not Timer.objects.filter(start__task=task).exists()
        if task.state == words.TaskState.UNDER_WAY and is_alone:
            move(task, before, state=words.TaskState.OPEN)
    return write_entry(
        kind=words.EntryKind.STOP,
        by=by,
        now=now,
        at=end,
        client_id=client_id,
        task=task,
        minutes=asked,
        started_by=start,
        text=text,
        before=before,
    )


def end_timer_on(task: Task, *, by: Person, **stop: Any) -> LogEntry | None:
    """Stop the timer of `by` where it runs on `task`; what runs elsewhere goes on."""
    timer = running_timer(by)
    start = _what_ends(timer, by, task, stop.get("ended_at") or stop["at"])
    return None if start is None else end_start(start, by=by, **stop)


def guess_minutes(task: Task) -> int | None:
    """The latest guess of the task's hands-on minutes."""
    latest = task.estimates.order_by("made_at", "id").last()
    return None if latest is None else latest.minutes


def round_minutes(stretch: timedelta) -> int:
    return int(stretch.total_seconds() + 30) // 60


def _refuse_impossible_end(
    start: LogEntry, end: datetime, at: datetime, field: str
) -> None:
    if end < start.at:
        raise BadInput(
            f"It began {wall.clock(start.at)} and cannot have stopped before that, "
            f"{wall.clock(end)}. Say when it really stopped.",
            field=field,
        )
    if end > at:
        raise BadInput(
            f"{wall.clock(end)} has not come yet; it is {wall.clock(at)}.",
            field=field,
        )


def _ask_whether_forgotten(
    start: LogEntry, minutes: int, at: datetime, *, said: bool
) -> None:
    task = start.task
    guess = (guess_minutes(task) if task else None) or 0
    is_forgotten = not said and minutes > max(1.5 * guess, SHORTEST_FORGOTTEN_MINUTES)
    if is_forgotten or minutes > LONGEST_SESSION_MINUTES:
        since = wall.clock(start.at, beside=at)
        raise NeedsAnswer(
            f"{show_minutes(minutes)} on {task} since {since}: "
            "Still on it, or when did you stop?",
            field="ended_at",
            code="still-on-it",
        )
