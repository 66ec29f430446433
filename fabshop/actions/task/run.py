"""The run of a machine that a task's hands-on work ends with."""

from __future__ import annotations

from datetime import datetime, timedelta

from fabshop import words
from fabshop.actions.moved import Before
from fabshop.errors import Clash
from fabshop.records.log import LogEntry
from fabshop.records.overnight import Run
from fabshop.records.shop import Person
from fabshop.records.task import Stage, Task


def next_run(task: Task) -> tuple[Stage | None, int | None]:
    """The run that comes next, and the hands-on minutes behind it; None: no more."""
    stages = list(task.stages.select_related("machine"))
    done = task.runs.filter(verdict=words.RunVerdict.CAME_OUT).count()
    runs = [stage for stage in stages if stage.kind == words.StageKind.RUN]
    ahead = [stage for stage in runs if stage.machine is not None][done:]
    if not ahead:
        return None, None
    after = stages[stages.index(ahead[0]) + 1 :]
    hands = [s.minutes for s in after if s.kind == words.StageKind.HANDS_ON]
    return ahead[0], sum(hands) if hands else None


def begin_run(
    task: Task,
    stage: Stage,
    *,
    by: Person,
    at: datetime,
    before: Before,
    reason: str = "",
) -> Run:
    """Keep that a machine runs from `at` on, and note it for an undo."""
    assert stage.machine is not None
    run = Run.objects.create(
        task=task,
        machine=stage.machine,
        minutes=stage.minutes,
        person=by,
        begun_at=at,
        due_at=at + timedelta(minutes=stage.minutes),
        reason=reason,
    )
    before["run"] = run.pk
    return run


def begin_last_run(task: Task, *, by: Person, at: datetime, before: Before) -> None:
    """Whoever says that a task is done has begun its run, if it ends with one.

    Nobody has seen it come out yet, so that is asked for.
    """
    stage, left = next_run(task)
    if stage is not None and left is None:
        begin_run(task, stage, by=by, at=at, before=before)


def undo_run(entry: LogEntry, by: Person, now: datetime) -> None:
    """Take back what a line of the log said of a run."""
    run = Run.objects.select_for_update(no_key=True).get(pk=entry.before["run"])
    if "was_due" in entry.before:
        run.due_at = datetime.fromisoformat(entry.before["was_due"])
    elif entry.kind == words.EntryKind.RUN_ENDED:
        run.verdict, run.ended_at, run.cause = "", None, ""
    elif run.verdict:
        raise Clash("What it came to has been said since; undo that first.")
    else:
        run.is_taken_back = True
    run.save()
