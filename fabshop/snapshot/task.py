"""The tasks of live builds, and those that all builds share, as facts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from datetime import datetime, timedelta
from typing import Any

from django.db.models import F, Q, Sum, Window
from django.db.models.functions import RowNumber

from fabshop import words
from fabshop.reckoning.facts import (
    FallbackFact,
    FinishedTask,
    NeedFact,
    RunFact,
    StageFact,
    TaskFact,
)
from fabshop.records.build import Build
from fabshop.records.log import LogEntry, Timer
from fabshop.records.overnight import Run
from fabshop.records.task import (
    After,
    Estimate,
    Fallback,
    HoldSigning,
    Need,
    Site,
    Stage,
    Task,
    hold_verdict,
)
from fabshop.snapshot.clock import Clock

_OPEN = (words.TaskState.OPEN, words.TaskState.UNDER_WAY)
_DONE = (words.TaskState.DONE, words.TaskState.ACCEPTED)
# What a hand did long ago says little of what it does now, and a shop that has kept
# years must not be slower to read.
_FINISHED_PER_FAMILY = 20
_LATELY = timedelta(days=90)


def live_tasks(builds: list[Build], now: datetime) -> list[Task]:
    """All tasks of these builds; of the shared ones those open or lately finished.

    A shared task just finished may still cure, and a plan that stands on it is
    still looked at.
    """
    lately = Q(done_at__gte=now - _LATELY) | Q(cured_at__gt=now)
    lately |= Q(pk__in=Run.objects.unsaid().values("task_id"))
    shared = Q(build=None) & (Q(state__in=_OPEN) | lately)
    of_builds = Q(build_id__in=[build.pk for build in builds])
    return list(Task.objects.filter(of_builds | shared))


def needed_lines(tasks: list[Task]) -> list[int]:
    """The order lines that these tasks need, or needed: a digest stands on both."""
    needs = Need.objects.filter(task__in=tasks, line__isnull=False).order_by()
    return list(needs.values_list("line_id", flat=True).distinct())


def task_facts(
    tasks: list[Task], builds: list[Build], clock: Clock
) -> tuple[TaskFact, ...]:
    slugs = {build.pk: build.slug for build in builds}
    ids = [task.pk for task in tasks]
    minutes = _latest_guesses(ids)
    logged = _logged(ids)
    after = _pairs(After.objects.filter(task_id__in=ids), "before__code")
    needs = _needs(ids)
    sites = _sites(ids)
    fallbacks = _fallbacks(ids)
    verdicts = _verdicts([task.pk for task in tasks if task.is_hold])
    timers = _timers(ids)
    runs, begun = _runs(ids, clock)
    stages = _stages(ids, {t.pk: begun[t.pk] for t in tasks if t.state not in _DONE})
    return tuple(
        TaskFact(
            id=task.code,
            build=slugs.get(task.build_id, "") if task.build_id else "",
            title=task.title,
            family=task.family,
            state=words.TaskState(task.state),
            minutes=minutes.get(task.pk, 0),
            left=task.left_minutes,
            logged=logged.get(task.pk, 0),
            stages=tuple(stages.get(task.pk, ())),
            after=tuple(after.get(task.pk, ())),
            needs=tuple(needs.get(task.pk, ())),
            opens=tuple(sites[task.pk, words.SiteKind.OPENS]),
            reach=tuple(sites[task.pk, words.SiteKind.REACH]),
            remove=tuple(sites[task.pk, words.SiteKind.REMOVE]),
            fits=tuple(sites[task.pk, words.SiteKind.FITS]),
            keeps_open=tuple(sites[task.pk, words.SiteKind.KEEPS_OPEN]),
            required=task.is_required,
            points=task.points,
            unbroken=task.is_unbroken,
            closed_up=task.is_closed_up,
            for_good=task.is_for_good,
            is_hold=task.is_hold,
            hold=verdicts.get(task.pk),
            in_teardown=task.in_teardown,
            noisy=task.is_noisy,
            may_help=task.may_help,
            wished=task.wished_at is not None,
            cured_at=clock.to_plan(task.cured_at) if task.cured_at else None,
            run=runs.get(task.pk),
            under_way_by=tuple(timers.get(task.pk, ())),
            fallbacks=tuple(fallbacks.get(task.pk, ())),
        )
        for task in tasks
    )


def _runs(ids: list[int], clock: Clock) -> tuple[dict[int, RunFact], dict[int, int]]:
    """The runs of which nobody has said what they came to; the earliest of a task.

    Beside them how many of each task's runs are behind it: came out, or on.
    """
    rows = Run.objects.filter(task_id__in=ids, is_taken_back=False)
    rows = rows.exclude(verdict=words.RunVerdict.FAILED).order_by("-begun_at", "-pk")
    unsaid: dict[int, RunFact] = {}
    begun: dict[int, int] = defaultdict(int)
    for row in rows.select_related("machine"):
        begun[row.task_id] += 1
        if not row.verdict:
            unsaid[row.task_id] = RunFact(
                id=row.pk,
                machine=row.machine.code,
                begun_at=clock.to_plan(row.begun_at),
                due_at=clock.to_plan(row.due_at),
                name=row.machine.name,
            )
    return unsaid, begun


def finished_tasks() -> tuple[FinishedTask, ...]:
    """The latest finished tasks of each family: the first guess against the log.

    A guess that was filled in from the family teaches nothing about guessing.
    """
    turn = Window(
        RowNumber(),
        partition_by=[F("family")],
        order_by=[F("done_at").desc(nulls_last=True), F("pk").desc()],
    )
    latest = (
        Task.objects.filter(state__in=_DONE)
        .annotate(turn=turn)
        .filter(turn__lte=_FINISHED_PER_FAMILY)
        .values_list("pk", "family")
        .order_by("pk")
    )
    families = dict(latest)
    ids = list(families)
    rows = (
        Estimate.objects.filter(task_id__in=ids, is_guessed=False)
        .order_by("made_at", "pk")
        .values_list("task_id", "minutes")
    )
    guesses: dict[int, int] = {}
    for task, minutes in rows:
        guesses.setdefault(task, minutes)
    logged = _logged(ids)
    return tuple(
        FinishedTask(family, guesses[task], logged[task])
        for task, family in families.items()
        if task in guesses and task in logged
    )


def _latest_guesses(ids: list[int]) -> dict[int, int]:
    rows = Estimate.objects.filter(task_id__in=ids).order_by("made_at", "pk")
    return dict(rows.values_list("task_id", "minutes"))


def _logged(ids: list[int]) -> dict[int, int]:
    """The minutes that the log books on each task; what was undone books nothing."""
    # An undo books no minutes of its own. Asking for entries that reverse nothing
    # would read the log of years through the wrong index.
    rows = (
        LogEntry.objects.filter(
            task_id__in=ids, minutes__isnull=False, reversed_by=None
        )
        .order_by()
        .values_list("task_id")
        .annotate(Sum("minutes"))
    )
    return dict(rows)


def _stages(ids: list[int], begun: Mapping[int, int]) -> dict[int, list[StageFact]]:
    """What is ahead of each task: its stages behind the last of its `begun` runs."""
    found: dict[int, list[StageFact]] = defaultdict(list)
    passed: dict[int, int] = defaultdict(int)
    rows = Stage.objects.filter(task_id__in=ids).order_by("task_id", "number")
    for task, kind, minutes, machine in rows.values_list(
        "task_id", "kind", "minutes", "machine__code"
    ):
        is_run = kind == words.StageKind.RUN and machine
        if is_run and passed[task] < begun.get(task, 0):
            passed[task] += 1
            found[task].clear()
        else:
            stage = StageFact(words.StageKind(kind), minutes, machine or "")
            found[task].append(stage)
    return found


def _pairs(rows: Any, *fields: str) -> dict[int, list[Any]]:
    found: dict[int, list[Any]] = defaultdict(list)
    for task, value in rows.order_by("task_id", *fields).values_list(
        "task_id", *fields
    ):
        found[task].append(value)
    return found


def _needs(ids: list[int]) -> dict[int, list[NeedFact]]:
    found: dict[int, list[NeedFact]] = defaultdict(list)
    rows = Need.objects.filter(task_id__in=ids).order_by("task_id", "pk")
    for task, kind, order, number, rack, quantity in rows.values_list(
        "task_id",
        "kind",
        "line__order__code",
        "line__number",
        "rack_code",
        "quantity_milli",
    ):
        name = f"{order}/{number}" if kind == words.NeedKind.ORDER else rack
        found[task].append(NeedFact(words.NeedKind(kind), name, quantity))
    return found


def _sites(ids: list[int]) -> dict[tuple[int, str], list[str]]:
    found: dict[tuple[int, str], list[str]] = defaultdict(list)
    rows = (
        Site.objects.filter(task_id__in=ids)
        .exclude(component__state=words.ComponentState.RETIRED)
        .order_by("component__code")
    )
    for task, kind, component in rows.values_list("task_id", "kind", "component__code"):
        found[task, kind].append(component)
    return found


def _fallbacks(ids: list[int]) -> dict[int, list[FallbackFact]]:
    found: dict[int, list[FallbackFact]] = defaultdict(list)
    for row in Fallback.objects.filter(task_id__in=ids):
        found[row.task_id].append(
            FallbackFact(
                title=row.title,
                minutes=row.minutes,
                points=row.points,
                uses=row.uses,
                chosen=row.chosen_at is not None,
                pk=row.pk,
            )
        )
    return found


def _verdicts(ids: Iterable[int]) -> dict[int, words.HoldVerdict | None]:
    signings: dict[int, list[HoldSigning]] = defaultdict(list)
    for signing in HoldSigning.objects.filter(task_id__in=list(ids)):
        signings[signing.task_id].append(signing)
    return {task: hold_verdict(said) for task, said in signings.items()}


def _timers(ids: list[int]) -> dict[int, list[str]]:
    rows = Timer.objects.filter(start__task_id__in=ids).order_by("start__at")
    found: dict[int, list[str]] = defaultdict(list)
    for task, name in rows.values_list("start__task_id", "person__name"):
        found[task].append(name)
    return found
