"""The traveler: one joint set, a column a joint, a row a step, with blanks to fill."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django.shortcuts import get_object_or_404

from fabshop import words
from fabshop.actions.joint.prep import prep_now, run_of
from fabshop.actions.joint.template import template_seen
from fabshop.clock import now
from fabshop.errors import NotFound
from fabshop.paper.sheet import Sheet, entries_so_far, said
from fabshop.paper.waived import waived_holds, waived_of_joints
from fabshop.reckoning.prep import GasFact, Prep, gas_of_set
from fabshop.records.build import Build
from fabshop.records.joint import Joint, PrepStep, PrepTemplate
from fabshop.records.task import Task
from fabshop.reference.caution import told
from fabshop.snapshot import plan_clock
from fabshop.snapshot.joint import gas_left_mbar

# Six joints make a hoop; each column is as wide as its QR, 22 mm with its quiet zone.
COLUMNS = 6
_WELDED = (words.JointState.WELDED, words.JointState.ACCEPTED)
_PURGED = (words.Metal.TITANIUM, words.Metal.STAINLESS)


def traveler(code: str) -> Sheet:
    """The traveler of the joints that one task welds."""
    task = get_object_or_404(Task.objects.select_related("build"), code=code)
    joints = list(
        Joint.objects.filter(task=task)
        .select_related("build", "twin")
        .prefetch_related("covers__task", "covers__component", "calls")
    )
    if not joints:
        raise NotFound(f"{task} welds no joint, so it has no traveler.")
    build = joints[0].build
    moment = now()
    offset = plan_clock(moment).offset_minutes
    parts = [_part(*group, offset) for group in _groups(joints)]
    cautions = [caution for part in parts for caution in part.pop("cautions")]
    return Sheet(
        name="traveler",
        title=f"Traveler {task.code}: {task.title}",
        template="paper/joint/traveler.html",
        path=f"/tasks/{task.code}/joints/",
        code=f"JOINTS {task.code}",
        filename=f"{build.slug}-traveler-{task.code}",
        subject=build.name,
        made_at=moment,
        offset_minutes=offset,
        entries=entries_so_far(),
        context={
            "task": task,
            "joints": joints,
            "gas": _gas(joints),
            "parts": parts,
            "cautions": told(cautions),
            "closers": _closers(joints),
            "waived": [
                *waived_of_joints(joints),
                *waived_holds(build.pk, offset),
            ],
        },
    )


def travelers_of(build: Build) -> Iterator[Sheet]:
    """The traveler of every set of a build that is not accepted whole."""
    tasks = Task.objects.filter(joints__in=build.joints.not_accepted()).distinct()
    for task in tasks.order_by("code"):
        yield traveler(task.code)


def _groups(
    joints: list[Joint],
) -> Iterator[tuple[list[Joint], PrepTemplate, list[PrepStep]]]:
    """The joints by the checklist they are on, so many to a table."""
    seen: dict[tuple[str, int], tuple[PrepTemplate, list[PrepStep]]] = {}
    by: dict[tuple[str, int], list[Joint]] = {}
    for joint in joints:
        run = run_of(joint)
        if run:
            template, steps = run.template, list(run.template.steps.all())
        else:
            template, steps = template_seen(joint.metal, now())
        key = template.metal, template.version
        seen.setdefault(key, (template, steps))
        by.setdefault(key, []).append(joint)
    for key, mine in by.items():
        for first in range(0, len(mine), COLUMNS):
            yield mine[first : first + COLUMNS], *seen[key]


def _part(
    joints: list[Joint], template: PrepTemplate, steps: list[PrepStep], offset: int
) -> dict[str, Any]:
    preps = {joint.pk: prep_now(joint, now()) for joint in joints}
    stages = []
    for stage in words.PrepStage:
        rows = [_row(s, joints, preps, offset) for s in steps if s.stage == stage]
        stages.append({"name": stage.label, "is": stage.value, "rows": rows})
    return {
        "joints": [_column(joint) for joint in joints],
        "checklist": f"{words.Metal(template.metal).label}, version {template.version}",
        "stages": stages,
        "columns": len(joints) + 1,
        "wants_colour": template.wants_colour,
        "cautions": [step.caution for step in steps],
    }


def _row(
    step: PrepStep, joints: list[Joint], preps: dict[int, Prep], offset: int
) -> dict[str, Any]:
    cells = []
    for joint in joints:
        (stand,) = [s for s in preps[joint.pk].stands if s.step.number == step.number]
        done = ""
        if stand.is_done and stand.tick:
            done = f"done {said(stand.tick.at, offset).split()[-1]}"
            if stand.tick.value is not None:
                done = f"{stand.tick.value.normalize():f} {step.unit}"
        cells.append(done)
    return {
        "number": step.number,
        "text": step.text,
        "is_stop": step.is_stop,
        "kind": step.kind,
        "minutes": step.minutes,
        "unit": step.unit,
        "cells": cells,
    }


def _column(joint: Joint) -> dict[str, Any]:
    calls = [c for c in joint.calls.all() if not c.is_taken_back]
    mine = [call for call in calls if call.attempt == joint.reworks]
    return {
        "code": joint.code,
        "name": joint.name,
        "state": words.JointState(joint.state),
        "path": f"/joints/{joint.code}/",
        "angle": f"{joint.angle_mdeg / 1000:g}",
        "dial": f"{90 - joint.angle_mdeg / 1000:g}",
        "offset": f"{joint.offset_um / 1000:g}",
        "twist": f"{joint.twist_mdeg / 1000:+g}" if joint.twist_mdeg else "0",
        "mark": joint.cut_mark,
        "section": f"{joint.cut_od_um / 1000:g}×{joint.cut_wall_um / 1000:g}",
        "onto": f"{joint.onto_od_um / 1000:g}",
        "cut_heat": joint.cut_heat_lot or "UNKNOWN",
        "onto_heat": joint.onto_heat_lot or "UNKNOWN",
        "material": joint.material,
        "onto_material": joint.onto_material or joint.material,
        "filler": joint.filler,
        "filler_lot": joint.filler_lot or ("UNKNOWN" if joint.filler else ""),
        "twin": joint.twin.code if joint.twin else "",
        "reworks": joint.reworks,
        "found": joint.found,
        "inspect": joint.inspect_why,
        "colour": words.Colour(mine[-1].colour).label if mine else "",
    }


def _gas(joints: list[Joint]) -> str:
    gas = [
        GasFact(joint.code, joint.gas_mbar)
        for joint in joints
        if joint.state not in _WELDED
        and (joint.gas_mbar is not None or joint.metal in _PURGED)
    ]
    return gas_of_set(gas, gas_left_mbar()).sentence if gas else ""


def _closers(joints: list[Joint]) -> list[str]:
    """The tasks and components that may not come over these joints yet."""
    names = {
        str(row.task or row.component)
        for joint in joints
        if joint.state != words.JointState.ACCEPTED
        for row in joint.covers.all()
    }
    return sorted(names)
