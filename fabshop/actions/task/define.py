"""Tasks, made and changed by the owner; every guess of their minutes is kept."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from fractions import Fraction
from statistics import median
from typing import Any

from django.db import IntegrityError, transaction

from fabshop import words
from fabshop.actions.log.entry import once, write_entry
from fabshop.actions.log.timer import guess_minutes, locked_task
from fabshop.actions.moved import Before, move
from fabshop.actions.shop import require
from fabshop.actions.task.after import put_after
from fabshop.actions.task.locked import refuse_moved, task_of
from fabshop.actions.task.parts import (
    put_fallbacks,
    put_needs,
    put_readings,
    put_sites,
    put_stages,
)
from fabshop.actions.typed import code as fit_code
from fabshop.actions.typed import number, one_line, some_line
from fabshop.errors import BadInput, Clash, NeedsAnswer
from fabshop.records.build import Build, Component
from fabshop.records.shop import Person
from fabshop.records.task import Estimate, Task

MOST_MINUTES = 100_000
_POINTS = 32_000
_FLAGS = {
    "is_required",
    "is_unbroken",
    "is_closed_up",
    "is_for_good",
    "is_hold",
    "in_teardown",
    "is_noisy",
}
_FIELDS = {"title", "build", "family", "points", *_FLAGS}


@once(words.EntryKind.CHANGED, first=task_of)
def add_task(
    *,
    by: Person,
    code: str,
    title: str,
    now: datetime,
    build: Build | None = None,
    family: str = "other",
    minutes: int | None = None,
    stages: Sequence[Mapping[str, Any]] = (),
    after: Iterable[Task | str] = (),
    needs: Sequence[Mapping[str, Any]] = (),
    sites: Iterable[tuple[words.SiteKind | str, Component | str]] = (),
    readings: Sequence[Mapping[str, Any]] = (),
    fallbacks: Sequence[Mapping[str, Any]] = (),
    confirm: bool = False,
    at: datetime | None = None,
    client_id: str | None = None,
    **fields: Any,
) -> Task:
    """Add a task with its guess and all that belongs to it.

    Without `minutes` the middle guess of its family is filled in, marked as guessed.
    No hands-on minutes at all asks first, unless something runs or cures.
    """
    require(by, "own")
    good = _checked({"title": title, "family": family, "build": build, **fields})
    if minutes == 0 and not stages and not confirm:
        raise _no_minutes(code)
    code = fit_code(code)
    try:
        with transaction.atomic():
            task = Task.objects.create(code=code, **good)
    except IntegrityError:
        raise Clash(f"There is a task {code} already.", field="code") from None
    put_stages(task, stages)
    _guess(task, minutes, by=by, now=now)
    put_after(task, after)
    put_needs(task, needs)
    put_sites(task, sites)
    put_readings(task, readings)
    put_fallbacks(task, fallbacks)
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        task=task,
        text=f"Task added: {task}",
    )
    return task


@once(words.EntryKind.CHANGED, first=task_of)
def change_task(
    *,
    by: Person,
    task: Task,
    version: int,
    now: datetime,
    minutes: int | None = None,
    confirm: bool = False,
    at: datetime | None = None,
    client_id: str | None = None,
    **fields: Any,
) -> Task:
    """Change what is said of a task; a new guess stands beside the old ones.

    Refused where the task has moved since `version`. `minutes` None leaves the guess.
    """
    require(by, "own")
    task = locked_task(task)
    refuse_moved(task, version)
    changes = {
        name: value
        for name, value in _checked(fields).items()
        if getattr(task, name) != value
    }
    if minutes == 0 and not confirm and not _runs_or_cures(task):
        raise _no_minutes(task.code)
    before: Before = {}
    said = sorted(name.replace("_", " ") for name in changes)
    if minutes is not None and minutes != guess_minutes(task):
        old = guess_minutes(task)
        _guess(task, minutes, by=by, now=now)
        said.append(f"guess {'none' if old is None else old} to {minutes} min")
    if not said:
        return task
    if "build" in changes:
        build = changes.pop("build")
        _refuse_stray_sites(task, build)
        changes["build_id"] = build and build.pk
    move(task, before, **changes)
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        task=task,
        text="Changed: " + ", ".join(said),
        before=before,
    )
    return task


def family_minutes(family: str) -> int | None:
    """The middle one of what people guessed last of the tasks of a family."""
    rows = Estimate.objects.filter(task__family=family, is_guessed=False)
    latest = dict(rows.order_by("made_at", "id").values_list("task_id", "minutes"))
    if not latest:
        return None
    return int(Fraction(median(latest.values())) + Fraction(1, 2))


def _guess(task: Task, minutes: int | None, *, by: Person, now: datetime) -> None:
    """Keep a guess: as it is said, else as the stages or the family have it."""
    hands_on = task.stages.filter(kind=words.StageKind.HANDS_ON)
    is_guessed = False
    if minutes is None and hands_on:
        minutes = sum(stage.minutes for stage in hands_on)
    if minutes is None:
        minutes, is_guessed = family_minutes(task.family), True
    if minutes is None:
        return
    number(minutes, field="minutes", label="Hands-on", most=MOST_MINUTES)
    Estimate.objects.create(
        task=task,
        minutes=minutes,
        is_guessed=is_guessed,
        person=None if is_guessed else by,
        made_at=now,
    )
    if len(hands_on) == 1:
        hands_on.update(minutes=minutes)


def _checked(fields: Mapping[str, Any]) -> dict[str, Any]:
    if unknown := sorted(set(fields) - _FIELDS):
        raise BadInput(f"A task has no {unknown[0]}.", field=unknown[0])
    good = dict(fields)
    if "title" in good:
        good["title"] = some_line(good["title"], field="title", label="What", most=160)
    if "family" in good:
        family = one_line(good["family"], field="family", label="Family", most=40)
        good["family"] = family or "other"
    if "points" in good:
        # Penalties count below nothing; a blank is none.
        points = good["points"] = good["points"] or 0
        if abs(points) > _POINTS:
            raise BadInput(f"Points: {points} is more than can be.", field="points")
    return good


def _no_minutes(code: str) -> NeedsAnswer:
    return NeedsAnswer(
        f"{code} takes no minutes of hands at all? Say so, or leave it blank.",
        field="minutes",
        code="no-minutes",
    )


def _runs_or_cures(task: Task) -> bool:
    return task.stages.exclude(kind=words.StageKind.HANDS_ON).exists()


def _refuse_stray_sites(task: Task, build: Build | None) -> None:
    strays = Component.objects.filter(sites__task=task)
    if build is not None:
        strays = strays.exclude(build=build)
    if build is not None and (stray := strays.first()):
        raise Clash(f"{task.code} works at {stray}, which is on another build.")
