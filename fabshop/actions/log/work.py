"""What people say of their work: done, part-done, stuck, or a note."""

from __future__ import annotations

from datetime import datetime
from fractions import Fraction
from math import isfinite

from fabshop import words
from fabshop.actions.expired import refuse_gone_off
from fabshop.actions.log.entry import itself, once, write_entry
from fabshop.actions.log.timer import (
    end_timer_on,
    guess_minutes,
    lock_person,
    locked_task,
    refuse_finished,
)
from fabshop.actions.moved import Before, move
from fabshop.actions.shop import require
from fabshop.actions.task.finish import mark_done, refuse_unfit
from fabshop.actions.task.run import begin_last_run
from fabshop.actions.typed import number
from fabshop.errors import BadInput
from fabshop.records.build import Build, Component
from fabshop.records.joint import Joint
from fabshop.records.log import LogEntry
from fabshop.records.order import Order
from fabshop.records.shop import Person
from fabshop.records.stock import Piece
from fabshop.records.task import Task


@once(words.EntryKind.DONE, first=itself)
def finish_work(
    *,
    by: Person,
    task: Task,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
    minutes: int | None = None,
    ended_at: datetime | None = None,
    confirm: bool = False,
    waive: str = "",
    text: str = "",
) -> LogEntry:
    """Finish a task: its cure begins, and what it fits is final and on.

    Refused over an open hold, and where it closes off for good what other tasks
    still need, unless the owner waives that with a reason.
    """
    require(by, "write")
    lock_person(by)
    task = locked_task(task)
    refuse_finished(task)
    refuse_gone_off(task, at=ended_at or at or now)
    refuse_unfit(task, by=by, waive=waive)
    before: Before = {}
    minutes = _stop_too(
        task, before, by, now, at or now, minutes, ended_at, confirm=confirm
    )
    mark_done(task, at=ended_at or at or now, before=before)
    begin_last_run(task, by=by, at=ended_at or at or now, before=before)
    said = [text, f"Waived: {waive.strip()}" if waive.strip() else ""]
    return write_entry(
        kind=words.EntryKind.DONE,
        by=by,
        now=now,
        at=ended_at or at,
        client_id=client_id,
        task=task,
        minutes=minutes,
        text="\n".join(line for line in said if line),
        before=before,
    )


@once(words.EntryKind.PART_DONE, first=itself)
def part_done(
    *,
    by: Person,
    task: Task,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
    left_minutes: int | None = None,
    left_share: Fraction | float | None = None,
    minutes: int | None = None,
    ended_at: datetime | None = None,
    confirm: bool = False,
    text: str = "",
) -> LogEntry:
    """Say what is left of a task, in minutes or as a share of its latest guess."""
    require(by, "write")
    lock_person(by)
    task = locked_task(task)
    refuse_finished(task)
    left = _left(task, left_minutes, left_share)
    before: Before = {}
    minutes = _stop_too(
        task, before, by, now, at or now, minutes, ended_at, confirm=confirm
    )
    move(task, before, left_minutes=left)
    return write_entry(
        kind=words.EntryKind.PART_DONE,
        by=by,
        now=now,
        at=ended_at or at,
        client_id=client_id,
        task=task,
        minutes=minutes,
        left_minutes=left,
        text=text,
        before=before,
    )


@once(words.EntryKind.STUCK, first=itself)
def stick(
    *,
    by: Person,
    task: Task,
    on: words.StuckOn | str,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
    minutes: int | None = None,
    ended_at: datetime | None = None,
    confirm: bool = False,
    text: str = "",
) -> LogEntry:
    """Say what a task is stuck on: a part, a tool, thinking or a person."""
    require(by, "write")
    if on not in list(words.StuckOn):
        raise BadInput(
            "Stuck on what: a part, a tool, thinking or a person?", field="on"
        )
    lock_person(by)
    task = locked_task(task)
    refuse_finished(task)
    before: Before = {}
    minutes = _stop_too(
        task, before, by, now, at or now, minutes, ended_at, confirm=confirm
    )
    return write_entry(
        kind=words.EntryKind.STUCK,
        by=by,
        now=now,
        at=ended_at or at,
        client_id=client_id,
        task=task,
        minutes=minutes,
        stuck_on=on,
        text=text,
        before=before,
    )


@once(words.EntryKind.NOTE, first=itself)
def note(
    *,
    by: Person,
    text: str,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
    build: Build | None = None,
    task: Task | None = None,
    component: Component | None = None,
    order: Order | None = None,
    joint: Joint | None = None,
    piece: Piece | None = None,
    has_photo: bool = False,
) -> LogEntry:
    """Keep whatever was typed; only a line without words and photo is refused."""
    require(by, "write")
    if not text.replace("\x00", "").strip() and not has_photo:
        raise BadInput("Nothing is written yet.", field="text")
    about: Before = {}
    if joint is not None:
        build, task = joint.build, joint.task
        about, text = {"joint": joint.pk}, f"{joint.code}: {text}"
    elif piece is not None:
        about, text = {"piece": piece.pk}, f"{piece.code}: {text}"
    return write_entry(
        kind=words.EntryKind.NOTE,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        build=build,
        task=task,
        component=component,
        order=order,
        text=text,
        before=about,
    )


def _stop_too(
    task: Task,
    before: Before,
    by: Person,
    now: datetime,
    at: datetime,
    minutes: int | None,
    ended_at: datetime | None,
    *,
    confirm: bool,
) -> int | None:
    """End the timer that `by` runs on `task`, if any; its stop books the minutes.

    Returns the minutes that are left for the line itself to book.
    """
    stop = end_timer_on(
        task,
        by=by,
        now=now,
        at=at,
        minutes=minutes,
        ended_at=ended_at,
        confirm=confirm,
    )
    if stop is None:
        if minutes is not None:
            number(minutes, field="minutes", label="Minutes", most=100_000)
        return minutes
    before["with"] = [stop.pk]
    task.refresh_from_db()
    return None


def _left(task: Task, minutes: int | None, share: Fraction | float | None) -> int:
    if (minutes is None) == (share is None):
        raise BadInput("How much is left: minutes, or ¼ ½ ¾?", field="left_minutes")
    if minutes is not None:
        return number(minutes, field="left_minutes", label="Left", most=100_000)
    assert share is not None
    if not isfinite(share) or not 0 <= share <= 1:
        raise BadInput(
            f"{share} is not a share of the task; use ¼, ½ or ¾.", field="left_share"
        )
    guess = guess_minutes(task)
    if guess is None:
        raise BadInput(
            f"{task} has no guess to take a share of; say the minutes left.",
            field="left_minutes",
        )
    return int(guess * Fraction(share) + Fraction(1, 2))
