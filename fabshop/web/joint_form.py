"""Joints told and changed: members, geometry, lots, twin, and what comes over them."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect

from fabshop import clock, units, words
from fabshop.actions.joint import (
    add_joint,
    change_joint,
    link_twin_joints,
    set_joint_covers,
    set_lots,
)
from fabshop.actions.joint.define import LOTS
from fabshop.errors import BadInput, ShopError
from fabshop.records.build import Build, Component
from fabshop.records.joint import Joint
from fabshop.records.task import Task
from fabshop.web.gate import for_owner, for_writers
from fabshop.web.respond import Context, refused, respond
from fabshop.web.tap import said, tap
from fabshop.web.typed import Typed

_MOST_TURN = 360
_OTHERS = [
    *((state.value, state.label) for state in words.JointState if state != "rework"),
    ("rework", "rework"),
]


@for_owner
def joint_new(request: HttpRequest, slug: str) -> HttpResponse:
    build = get_object_or_404(Build, slug=slug)
    context = {**_context(build), "build": build, "is_new": True}
    if request.method != "POST":
        return respond(request, "joint/form.html", "", context)
    try:
        form = Typed(request)
        code = form.needed("code", "Code", most=40)
        fields = _fields(form, build)
        form.refuse_if_wrong()
        state = form.raw("state") or words.JointState.PLANNED.value
        joint = add_joint(
            build=build,
            code=code,
            state=state,
            taken_over=form.raw("taken_over"),
            found=form.raw("found"),
            confirm=form.is_ticked("confirm"),
            **fields,
            **tap(request),
        )
    except ShopError as error:
        return refused(request, error, "joint/form.html", "", context)
    return redirect("joint", joint.code)


@for_owner
def joint_change(request: HttpRequest, code: str) -> HttpResponse:
    joint = get_object_or_404(Joint.objects.select_related("build"), code=code)
    context = {**_context(joint.build), "build": joint.build, "joint": joint}
    context["shown"] = _shown(joint)
    if request.method != "POST":
        return respond(request, "joint/form.html", "", context)
    try:
        form = Typed(request)
        fields = _fields(form, joint.build)
        form.refuse_if_wrong()
        for name in ("heat_waived_why", "dissimilar_why"):
            fields[name] = form.raw(name)
        version = form.whole("seen_version", "Version")
        change_joint(
            joint=joint,
            seen_version=version,
            confirm=form.is_ticked("confirm"),
            **fields,
            **tap(request),
        )
    except ShopError as error:
        return refused(request, error, "joint/form.html", "", context)
    return redirect("joint", joint.code)


@for_writers
def joint_lots(request: HttpRequest, code: str) -> HttpResponse:
    """Heat lots of both sides, the filler and its lot, as they are read off."""
    joint = get_object_or_404(Joint.objects.select_related("build"), code=code)
    context = {"now": clock.now(), "joint": joint}
    if request.method != "POST":
        return respond(request, "joint/lots.html", "", context)
    try:
        form = Typed(request)
        lots = {name: form.text(name, name, most=40) for name in LOTS}
        form.refuse_if_wrong()
        set_lots(joint=joint, **lots, **tap(request))
    except ShopError as error:
        return refused(request, error, "joint/lots.html", "", context)
    return redirect("joint", joint.code)


@for_owner
def joint_over(request: HttpRequest, code: str) -> HttpResponse:
    """Its twin, and the tasks and components that will come over it."""
    joint = get_object_or_404(Joint.objects.select_related("build", "twin"), code=code)
    covers = list(joint.covers.select_related("task", "component"))
    context = {
        "now": clock.now(),
        "joint": joint,
        "paints": " ".join(_codes(covers, "paints")),
        "covers": " ".join(_codes(covers, "covers")),
        "parts": " ".join(row.component.code for row in covers if row.component),
    }
    if request.method != "POST":
        return respond(request, "joint/over.html", "", context)
    try:
        form = Typed(request)
        tasks = [
            (kind, _task(name, joint.build, kind))
            for kind in words.JointCloses
            for name in form.raw(kind.value).replace(",", " ").split()
        ]
        names = form.raw("parts").replace(",", " ").split()
        parts = [_component(name, joint.build) for name in names]
        twin = form.raw("twin")
        if twin and (joint.twin is None or joint.twin.code != twin):
            other = Joint.objects.filter(code=twin).first()
            if other is None:
                raise BadInput(f"Twin: there is no joint {twin[:40]}.", field="twin")
            link_twin_joints(
                joint=joint,
                twin=other,
                mirror=form.is_ticked("mirror"),
                confirm=form.is_ticked("confirm"),
                angles=form.is_ticked("angles"),
                **said(request),
            )
        set_joint_covers(joint=joint, tasks=tasks, components=parts, **said(request))
    except ShopError as error:
        return refused(request, error, "joint/over.html", "", context)
    return redirect("joint", joint.code)


def _context(build: Build) -> Context:
    tasks = Task.objects.unfinished().filter(build=build, family="welding")
    return {
        "now": clock.now(),
        "metals": [("", "as its material"), *words.Metal.choices()],
        "states": _OTHERS,
        "tasks": [("", "none"), *((task.code, str(task)) for task in tasks)],
    }


def _fields(form: Typed, build: Build) -> dict[str, Any]:
    fields: dict[str, Any] = {
        "name": form.needed("name", "Where", most=120),
        "material": form.needed("material", "Material", most=40),
        "onto_material": form.text("onto_material", "Onto material", most=40),
        "cut_od_um": form.length_um("cut_od", "Tube across"),
        "cut_wall_um": form.length_um("cut_wall", "Wall"),
        "onto_od_um": form.length_um("onto_od", "Onto"),
        "angle_mdeg": _degrees(form, "angle", "Angle"),
        "offset_um": _signed(form, "offset", "Offset"),
        "twist_mdeg": _degrees(form, "twist", "Twist") or 0,
        "cut_mark": form.text("cut_mark", "Mark", most=44),
        "gas_mbar": form.milli("gas", "Gas"),
    }
    if metal := form.raw("metal"):
        fields["metal"] = metal
    for name in ("task", "coped_in"):
        code = form.raw(name)
        fields[name] = _task(code, build, name) if code else None
    return fields


def _shown(joint: Joint) -> dict[str, str]:
    """Its figures as they are typed."""
    lengths = ("cut_od_um", "cut_wall_um", "onto_od_um")
    thousandths = ("angle_mdeg", "offset_um", "twist_mdeg", "gas_mbar")
    return {
        **{name: units.show_length(getattr(joint, name)) for name in lengths},
        **{
            name: f"{value / 1000:g}"
            for name in thousandths
            if (value := getattr(joint, name)) is not None
        },
    }


def _degrees(form: Typed, name: str, label: str) -> int | None:
    value = _number(form, name, label)
    if value is not None and abs(value) > _MOST_TURN:
        form.wrong(name, f"{label}: {value:g}° is more than a turn.")
        return None
    return None if value is None else round(value * 1000)


def _signed(form: Typed, name: str, label: str) -> int:
    value = _number(form, name, label)
    if value is not None and abs(value) > 1000:
        form.wrong(name, f"{label}: {value:g} mm is more than a metre.")
        return 0
    return round((value or 0) * 1000)


def _number(form: Typed, name: str, label: str) -> float | None:
    seen = form.raw(name).replace(",", ".").replace("−", "-").removesuffix("°")
    if not seen:
        return None
    try:
        value = float(seen)
    except ValueError:
        value = float("nan")
    if not abs(value) < 1e6:
        form.wrong(name, f"{label}: “{seen[:20]}” is not a figure like 52,6.")
        return None
    return value


def _task(code: str, build: Build, field: str) -> Task:
    task = Task.objects.filter(code=code, build__in=[build]).first()
    task = task or Task.objects.filter(code=code, build=None).first()
    if task is None:
        raise BadInput(f"There is no task {code[:40]} of {build}.", field=field)
    return task


def _component(code: str, build: Build) -> Component:
    part = Component.objects.present().filter(code=code, build=build).first()
    if part is None:
        raise BadInput(f"There is no component {code[:40]} on {build}.", field="parts")
    return part


def _codes(covers: list[Any], kind: str) -> list[str]:
    return [row.task.code for row in covers if row.task and row.kind == kind]
