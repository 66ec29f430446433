"""Asks for a teardown of one build and keeps the answer as a proposed plan."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import asdict
from datetime import datetime
from typing import Any, Literal
from zoneinfo import ZoneInfo

from django.db import transaction

from fabshop import words, worker
from fabshop.actions.log import write_entry
from fabshop.actions.plan.tick import is_done
from fabshop.actions.shop import require
from fabshop.errors import BadInput
from fabshop.reckoning.batching import Batch, Taken, teardown_batch
from fabshop.reckoning.facts import Facts, Span
from fabshop.records.build import Build
from fabshop.records.plan import Plan, PlanStep
from fabshop.records.shop import Person
from fabshop.records.task import Task
from fabshop.snapshot import Clock, digest, plan_clock, take

MOST_SESSIONS = 3
SOLVER_S = 5.0
"""How long the planner may look for something better."""
SEVERAL_S = 10.0
"""The same for several sessions: their proof takes several times as long."""
GRACE_S = 15.0
"""What starting the solver and reading the answer may take besides."""

Dates = Literal["likely", "late"]
WaitFor = Literal["each", "all"]
Prefer = Literal["late_start", "early_finish"]


def ask_teardown(
    *,
    by: Person,
    build: Build,
    now: datetime,
    tasks: Sequence[str] | None = None,
    dates: Dates = "likely",
    wait_for: WaitFor = "all",
    max_sessions: int = 1,
    prefer: Prefer = "late_start",
    begin: datetime | None = None,
    goal: str = "last teardown",
) -> Plan:
    """Reckon a teardown and keep it, proposed; accepting it is another step.

    `tasks` are codes; left out, those put into the planned teardown. Asked on likely
    dates, the same is reckoned on late ones too, for what must be decided by when.
    The solver runs outside the transaction, so that nobody's tap waits for it.
    """
    require(by, "write")
    if not 1 <= max_sessions <= MOST_SESSIONS:
        raise BadInput(
            f"Sessions: {max_sessions} cannot be. Choose 1 to {MOST_SESSIONS}.",
            field="max_sessions",
        )
    facts, clock = take(now), plan_clock(now)
    asked: dict[str, Any] = {
        "tasks": None if tasks is None else tuple(dict.fromkeys(tasks)),
        "wait_for": wait_for,
        "max_sessions": max_sessions,
        "prefer": prefer,
        "begin": None if begin is None else clock.to_plan(begin),
    }
    batch = batch_of(facts, build, dates=dates, **asked)
    known = steps_left(Plan.objects.accepted().filter(build=build).first())
    answer = reckoned(batch, known)
    late_answer = None
    if dates == "likely":
        late = batch_of(facts, build, dates="late", **asked)
        late_answer = reckoned(late, known)
    with transaction.atomic():
        entry = write_entry(
            kind=words.EntryKind.PLANNED,
            by=by,
            now=now,
            build=build,
            text=f"{goal}: {len(batch.tasks)} tasks asked, {answer['status']}",
        )
        return Plan.objects.create(
            build=build,
            goal=goal,
            asked={
                **asked,
                "begin": begin and begin.isoformat(),
                "tasks": list(batch.tasks),
                "dates": dates,
                **_said_beside(batch),
            },
            question=batch.question,
            answer=answer,
            late_answer=late_answer,
            utc_offset_minutes=clock.offset_minutes,
            digest=digest(facts, build.slug, batch.tasks),
            entries=facts.entries,
            made_by=by,
            made_at=entry.server_at,
        )


def add_task_to_plan(*, by: Person, plan: Plan, task: Task, now: datetime) -> Plan:
    """Ask the same again with one task more; the answer is a new proposed plan."""
    asked = plan.asked
    if task.code in asked["tasks"]:
        raise BadInput(f"{task.code} is in this teardown already.", field="task")
    begin = asked["begin"]
    return ask_teardown(
        by=by,
        build=plan.build,
        now=now,
        tasks=[*asked["tasks"], task.code],
        dates=asked["dates"],
        wait_for=asked["wait_for"],
        max_sessions=asked["max_sessions"],
        prefer=asked["prefer"],
        begin=datetime.fromisoformat(begin) if begin else None,
        goal=plan.goal,
    )


def batch_of(facts: Facts, build: Build, **asked: Any) -> Batch:
    """The question, or a sentence where there is nothing to ask."""
    batch = teardown_batch(facts, build.slug, taken=_taken(facts, build), **asked)
    if not batch.tasks:
        raise BadInput(
            "No task is chosen that is still open. Choose at least one.", field="tasks"
        )
    if not batch.question["windows"]:
        raise BadInput(
            f"No bench hours are entered from here to the pack-out of {build.name}. "
            "Enter them under Hours.",
            field="hours",
        )
    return batch


def _taken(facts: Facts, build: Build) -> tuple[Taken, ...]:
    """What the accepted teardowns of other builds still have to do, step by step."""
    steps = (
        PlanStep.objects.filter(plan__state=words.PlanState.ACCEPTED)
        .exclude(plan__build=build)
        .select_related("plan__build")
        .prefetch_related("ticks")
    )
    clock = Clock(ZoneInfo("UTC"), facts.utc_offset_minutes)
    return tuple(
        Taken(
            Span(clock.to_plan(step.starts_at), clock.to_plan(step.ends_at)),
            f"{step.plan.build.name}, edition {step.plan.edition},",
        )
        for step in steps
        if step.minutes and not is_done(step)
    )


def steps_left(plan: Plan | None) -> list[list[tuple[str, str]]]:
    """By session, what an accepted plan still has to do, as (do, id)."""
    if plan is None:
        return []
    steps = plan.steps.select_related("task", "component").prefetch_related("ticks")
    sessions: dict[int, list[tuple[str, str]]] = {}
    for step in steps:
        thing = step.task if step.does == words.StepDo.TASK else step.component
        left = sessions.setdefault(step.session, [])
        if thing is not None and not is_done(step):
            left.append((str(step.does), thing.code))
    return [left for left in sessions.values() if left]


def reckoned(
    batch: Batch, known: Sequence[Sequence[tuple[str, str]]] = ()
) -> dict[str, Any]:
    """The planner's answer, worked out in a process of its own.

    `known` are the steps accepted before: nothing is put elsewhere without a gain.
    """
    limit_s = SOLVER_S if batch.question["max_sessions"] == 1 else SEVERAL_S
    question = {**batch.question, "time_limit_s": limit_s}
    answer: dict[str, Any] = worker.run(
        "fabshop.reckoning.ask",
        "teardown_like",
        question,
        known,
        limit_s=limit_s + GRACE_S,
    )
    return answer


def _said_beside(batch: Batch) -> dict[str, Any]:
    """What stands beside the answer on page and paper, as plain data."""
    return {
        "offered": list(batch.offered),
        "gates": [_plain(asdict(gate)) for gate in batch.gates],
        "waits": [_plain(asdict(wait)) for wait in batch.waits],
        "notes": list(batch.notes),
        "unknown_minutes": list(batch.unknown_minutes),
    }


def _plain(row: dict[str, Any]) -> dict[str, Any]:
    return {
        name: value.isoformat(timespec="minutes")
        if isinstance(value, datetime)
        else value
        for name, value in row.items()
    }
