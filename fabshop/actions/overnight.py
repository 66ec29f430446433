"""Runs that nobody watches: begun before leaving, and over when somebody says so."""

from __future__ import annotations

from datetime import datetime, timedelta

from fabshop import words
from fabshop.actions import wall
from fabshop.actions.log.entry import once, write_entry
from fabshop.actions.log.late import is_late
from fabshop.actions.log.timer import (
    end_timer_on,
    lock_person,
    locked_task,
    refuse_finished,
)
from fabshop.actions.moved import Before, move
from fabshop.actions.shop import require
from fabshop.actions.task.finish import mark_done, refuse_unfit
from fabshop.actions.task.run import begin_run, next_run
from fabshop.actions.typed import number, one_line, some_line
from fabshop.errors import BadInput, Clash, NeedsAnswer, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.overnight import Run
from fabshop.records.shop import Day, Machine, Person
from fabshop.records.task import Task
from fabshop.units import show_day, show_minutes

MOST_MINUTES = 60 * 24 * 14


def run_of(entry: LogEntry) -> Run:
    """The run that a line of the log began or ended."""
    run = Run.objects.filter(pk=entry.before.get("run", 0)).first()
    if run is None:
        raise Clash("That run is not kept here any more.")
    return run


@once(words.EntryKind.RUN_STARTED, first=run_of)
def start_run(
    *,
    by: Person,
    task: Task,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
    reason: str = "",
    confirm: bool = False,
) -> Run:
    """Say that a task's machine runs; its hands-on work before that is done.

    Where another run is unsaid on that machine it asks (`confirm`: two at once);
    on a day on which nothing may run it wants the owner's `reason`. What comes in
    late is asked nothing: it has happened.
    """
    require(by, "write")
    at = at or now
    lock_person(by)
    task = locked_task(task)
    refuse_finished(task)
    stage, left = next_run(task)
    if stage is None or stage.machine is None:
        raise Clash(
            f"{task} has no run on a machine left. Say on its page what it needs.",
            code="no-run",
        )
    refuse_unfit(task, by=by, waive="")
    due = at + timedelta(minutes=stage.minutes)
    reason = one_line(reason, field="reason", label="Reason", most=200)
    if not is_late(at, now):
        _ask_of_what_runs(stage.machine, confirm=confirm)
        _refuse_where_nothing_may_run(at, due, by, reason)
    before: Before = {}
    stop = end_timer_on(task, by=by, now=now, at=at, confirm=True)
    if stop is not None:
        before["with"] = [stop.pk]
        task.refresh_from_db()
    if left is None:
        mark_done(task, at=at, before=before)
    else:
        move(task, before, state=words.TaskState.OPEN, left_minutes=left)
    run = begin_run(task, stage, by=by, at=at, before=before, reason=reason)
    write_entry(
        kind=words.EntryKind.RUN_STARTED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        task=task,
        text=_joined(
            f"{stage.machine.name}: {show_minutes(stage.minutes)}, "
            f"due {wall.clock(due, beside=at)}",
            reason,
        ),
        before=before,
    )
    return run


@once(words.EntryKind.RUN_ENDED, first=run_of)
def came_out(
    *,
    by: Person,
    run: Run,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Run:
    """Say that a run came out good; what cures after it cures from its end on.

    It ended when it was due, or when it is seen to be over before that.
    """
    require(by, "write")
    run = _locked(run)
    ended = min(at or now, run.due_at)
    before: Before = {"run": run.pk, "said": ""}
    task = locked_task(run.task)
    if task.cured_at is not None:
        # The cures behind the run stand behind its end, not behind its due time.
        move(task, before, cured_at=task.cured_at - (run.due_at - ended))
    good, ended = words.RunVerdict.CAME_OUT, max(ended, run.begun_at)
    _said(run, good, ended, "", before, by=by, now=now, at=at, client_id=client_id)
    return run


@once(words.EntryKind.RUN_ENDED, first=run_of)
def run_failed(
    *,
    by: Person,
    run: Run,
    cause: str,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
    failed_at: datetime | None = None,
) -> Run:
    """Say that a run failed, when, and why: its hours are lost, its task is open again.

    `failed_at` is the true time, however late it is told; the moment of telling where
    nobody knows it.
    """
    require(by, "write")
    cause = some_line(cause, field="cause", label="What went wrong", most=200)
    run = _locked(run)
    told = at or now
    ended = failed_at or min(told, run.due_at)
    if not run.begun_at <= ended <= told:
        raise BadInput(
            f"It ran from {wall.clock(run.begun_at, beside=told)} on, and it is "
            f"{wall.clock(told, beside=run.begun_at)} now: it cannot have failed "
            f"{wall.clock(ended, beside=told)}.",
            field="failed_at",
        )
    before: Before = {"run": run.pk, "said": ""}
    task = locked_task(run.task)
    if task.state == words.TaskState.DONE:
        move(task, before, state=words.TaskState.OPEN, done_at=None, cured_at=None)
    bad = words.RunVerdict.FAILED
    _said(run, bad, ended, cause, before, by=by, now=now, at=at, client_id=client_id)
    return run


@once(words.EntryKind.CHANGED, first=run_of)
def still_going(
    *,
    by: Person,
    run: Run,
    minutes: int,
    now: datetime,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Run:
    """Say that a run takes so many minutes more from now on."""
    require(by, "write")
    minutes = number(minutes, field="minutes", label="Minutes", most=MOST_MINUTES)
    run = _locked(run)
    due = max((at or now) + timedelta(minutes=minutes), run.begun_at)
    before: Before = {"run": run.pk, "was_due": run.due_at.isoformat()}
    task = locked_task(run.task)
    if task.cured_at is not None:
        move(task, before, cured_at=task.cured_at + (due - run.due_at))
    run.due_at = due
    run.save(update_fields=["due_at"])
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        task=task,
        text=f"{run.machine.name} still goes; now due {wall.clock(due, beside=now)}",
        before=before,
    )
    return run


def _said(
    run: Run,
    verdict: words.RunVerdict,
    ended: datetime,
    cause: str,
    before: Before,
    *,
    by: Person,
    now: datetime,
    at: datetime | None,
    client_id: str | None,
) -> None:
    run.verdict, run.ended_at, run.cause = verdict, ended, cause
    run.save(update_fields=["verdict", "ended_at", "cause"])
    lost = int((ended - run.begun_at).total_seconds()) // 60
    how = f"failed after {show_minutes(lost)}" if cause else verdict.label
    write_entry(
        kind=words.EntryKind.RUN_ENDED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        task=run.task,
        text=_joined(f"{run.machine.name}: {how}", cause),
        before=before,
    )


def _locked(run: Run) -> Run:
    run = Run.objects.select_for_update(no_key=True).get(pk=run.pk)
    if run.verdict or run.is_taken_back:
        how = words.RunVerdict(run.verdict).label if run.verdict else "taken back"
        raise Clash(f"That run was said already: {how}.", code="run-is-said")
    return run


def _ask_of_what_runs(machine: Machine, *, confirm: bool) -> None:
    other = Run.objects.unsaid().filter(machine=machine).select_related("task").first()
    if other is not None and not confirm:
        raise NeedsAnswer(
            f"{machine.name} is still on {other.task}, due {wall.clock(other.due_at)}; "
            "nobody has said what it came to. Start this as well?",
            field="confirm",
            code="machine-is-on",
        )


def _refuse_where_nothing_may_run(
    at: datetime, due: datetime, by: Person, reason: str
) -> None:
    zone = wall.zone()
    first, last = at.astimezone(zone).date(), due.astimezone(zone).date()
    day = Day.objects.filter(on__range=(first, last), may_run_machines=False).first()
    if day is None:
        return
    if not reason:
        raise NeedsAnswer(
            f"It would run into {show_day(day.on)}, on which nothing may run. "
            "Start it all the same, with a reason?",
            field="reason",
            code="nothing-may-run",
        )
    if not by.is_owner:
        raise NotAllowed("Only the owner leaves a machine running on such a day.")


def _joined(*texts: str) -> str:
    return ". ".join(text for text in texts if text)
