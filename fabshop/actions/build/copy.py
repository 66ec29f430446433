"""A build as the fresh start of another: its places and tasks, none of its history."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from itertools import groupby

from django.db import transaction

from fabshop import words
from fabshop.actions.build.define import add_build
from fabshop.actions.joint.copied import copy_joints
from fabshop.actions.log.entry import write_entry
from fabshop.actions.shop.allowed import require
from fabshop.errors import Clash
from fabshop.records.build import Build, Component, Cover, Fastening
from fabshop.records.joint import Joint
from fabshop.records.shop import Person
from fabshop.records.task import (
    After,
    Estimate,
    Fallback,
    Need,
    Reading,
    Site,
    Stage,
    Task,
)

MOST_CODE = 40


@transaction.atomic
def copy_build(
    *, by: Person, build: Build, slug: str, letter: str, name: str, now: datetime
) -> Build:
    """Begin a build with the components, covers, twins, tasks and joints of another.

    Everything is fresh: no component is there yet, every task is open, no hold is
    read or signed, every joint is planned and has no heat lot, and nothing that was
    ordered for the other build is counted on.
    """
    require(by, "own")
    fresh = add_build(
        by=by, slug=slug, letter=letter, name=name, class_name=build.class_name, now=now
    )
    components = _components(build, fresh)
    tasks = _tasks(build, fresh)
    _belongings(components, tasks, by=by, now=now)
    codes = _codes((joint.code for joint in build.joints.all()), build, fresh)
    _refuse_taken(Joint.objects.filter(code__in=codes.values()), "joint")
    joints = copy_joints(build, fresh, codes, components, tasks)
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        build=fresh,
        text=f"Begun as a copy of {build.name}: {len(components)} components, "
        f"{len(tasks)} tasks" + f", {joints} joints" * bool(joints) + ".",
    )
    return fresh


def _components(build: Build, fresh: Build) -> dict[int, Component]:
    """The places of the fresh build, by the keys of those they are copies of."""
    old = list(build.components.present())
    codes = _codes((part.code for part in old), build, fresh)
    _refuse_taken(Component.objects.filter(code__in=codes.values()), "component")
    copies = {
        part.pk: Component(
            build=fresh,
            code=codes[part.code],
            name=part.name,
            state=words.ComponentState.MISSING,
            is_on=False,
            side=part.side,
            off_minutes=part.off_minutes,
            on_minutes=part.on_minutes,
            held_by=part.held_by,
            is_for_good=part.is_for_good,
            watch=part.watch,
            bares_battery_plug=part.bares_battery_plug,
            mass_mg=part.mass_mg,
            # Weighed was the other one.
            mass_basis="" if part.mass_mg is None else words.MassBasis.ESTIMATED,
            x_um=part.x_um,
            y_um=part.y_um,
            z_um=part.z_um,
        )
        for part in old
    }
    Component.objects.bulk_create(copies.values())
    for part in old:
        if part.twin_id in copies:
            copies[part.pk].twin = copies[part.twin_id]
    Component.objects.bulk_update(copies.values(), ["twin"])
    Fastening.objects.bulk_create(
        Fastening(
            component=copies[one.component_id],
            count=one.count,
            size=one.size,
            locker=one.locker,
            torque_mnm=one.torque_mnm,
            is_single_use=one.is_single_use,
            is_screw=one.is_screw,
            bag=one.bag,
        )
        for one in Fastening.objects.filter(component__in=copies)
    )
    Cover.objects.bulk_create(
        Cover(
            under=copies[cover.under_id],
            cover=copies[cover.cover_id],
            route=cover.route,
        )
        for cover in Cover.objects.filter(under__in=copies, cover__in=copies)
    )
    return copies


def _tasks(build: Build, fresh: Build) -> dict[int, Task]:
    """The tasks of the fresh build, by the keys of those they are copies of."""
    old = list(build.tasks.exclude(state=words.TaskState.GIVEN_UP))
    codes = _codes((task.code for task in old), build, fresh)
    _refuse_taken(Task.objects.filter(code__in=codes.values()), "task")
    copies = {
        task.pk: Task(
            build=fresh,
            code=codes[task.code],
            title=task.title,
            family=task.family,
            is_required=task.is_required,
            points=task.points,
            is_unbroken=task.is_unbroken,
            is_closed_up=task.is_closed_up,
            is_for_good=task.is_for_good,
            is_hold=task.is_hold,
            in_teardown=task.in_teardown,
            is_noisy=task.is_noisy,
        )
        for task in old
    }
    Task.objects.bulk_create(copies.values())
    return copies


def _belongings(
    components: dict[int, Component],
    tasks: dict[int, Task],
    *,
    by: Person,
    now: datetime,
) -> None:
    """What belongs to the tasks: stages, guesses, order, sites, readings, plan B."""
    Stage.objects.bulk_create(
        Stage(
            task=tasks[one.task_id],
            number=one.number,
            kind=one.kind,
            minutes=one.minutes,
            machine_id=one.machine_id,
        )
        for one in Stage.objects.filter(task__in=tasks)
    )
    guesses = Estimate.objects.filter(task__in=tasks).order_by(
        "task_id", "made_at", "id"
    )
    Estimate.objects.bulk_create(
        Estimate(
            task=tasks[pk],
            minutes=(last := list(made)[-1]).minutes,
            is_guessed=last.is_guessed,
            person=by,
            made_at=now,
        )
        for pk, made in groupby(guesses, key=lambda guess: guess.task_id)
    )
    After.objects.bulk_create(
        After(task=tasks[one.task_id], before=tasks[one.before_id])
        for one in After.objects.filter(task__in=tasks, before__in=tasks)
    )
    Need.objects.bulk_create(
        Need(
            task=tasks[one.task_id],
            kind=one.kind,
            rack_code=one.rack_code,
            quantity_milli=one.quantity_milli,
            note=one.note,
        )
        for one in Need.objects.filter(task__in=tasks, line=None)
    )
    Site.objects.bulk_create(
        Site(
            task=tasks[one.task_id],
            component=components[one.component_id],
            kind=one.kind,
        )
        for one in Site.objects.filter(task__in=tasks, component__in=components)
    )
    Fallback.objects.bulk_create(
        Fallback(
            task=tasks[one.task_id],
            title=one.title,
            minutes=one.minutes,
            points=one.points,
            uses=one.uses,
        )
        for one in Fallback.objects.filter(task__in=tasks)
    )
    Reading.objects.bulk_create(
        Reading(
            task=tasks[one.task_id],
            number=one.number,
            label=one.label,
            kind=one.kind,
            unit=one.unit,
            low=one.low,
            high=one.high,
        )
        for one in Reading.objects.filter(task__in=tasks)
    )


def _codes(old: Iterable[str], build: Build, fresh: Build) -> dict[str, str]:
    """T13 of build T is K13 of build K; a code of another shape gets K- before it."""
    codes = {
        code: fresh.letter + code[len(build.letter) :]
        if code.startswith(build.letter)
        and code[len(build.letter) :].lstrip("-").isdecimal()
        else f"{fresh.letter}-{code}"
        for code in old
    }
    for code in codes.values():
        if len(code) > MOST_CODE:
            raise Clash(
                f"{code} would be longer than the {MOST_CODE} characters that a code "
                "may have. Choose a shorter letter.",
                field="letter",
            )
    return codes


def _refuse_taken(taken: Iterable[Component | Task | Joint], what: str) -> None:
    for one in taken:
        raise Clash(
            f"There is a {what} {one.code} already, and the copy would need that "
            "code. Choose another letter.",
            field="letter",
        )
