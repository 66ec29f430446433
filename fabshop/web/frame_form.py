"""Drawing a frame by hand: its name, a node, a tube, one thing a screen."""

from __future__ import annotations

import re
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from fabshop import clock, units
from fabshop.actions.frame import (
    EndSaid,
    change_frame,
    mirror_tube,
    remove_node,
    remove_tube,
    set_node,
    set_tube,
    wish_frame,
)
from fabshop.errors import ShopError
from fabshop.reckoning.frame.typed import angle_read
from fabshop.records.frame import Frame, Node, Tube
from fabshop.reference.material import materials
from fabshop.web.frame import FRAMES, tube_context
from fabshop.web.gate import for_owner
from fabshop.web.respond import refused, respond
from fabshop.web.tap import said
from fabshop.web.typed import Typed

AXES = (("x", "x, forward"), ("y", "y, to the left"), ("z", "z, up"))
READS = [("between", "Angle between"), ("dial", "Dial")]


@for_owner
def frame_change(request: HttpRequest, code: str) -> HttpResponse:
    frame = get_object_or_404(FRAMES, code=code)
    axes = [("y", "y: left and right"), ("x", "x"), ("z", "z")]
    context = {"now": clock.now(), "frame": frame, "axes": axes}
    if request.method != "POST":
        return respond(request, "frame/form.html", "", context)
    try:
        form = Typed(request)
        name = form.needed("name", "Name", most=120)
        form.refuse_if_wrong()
        change_frame(
            frame=frame,
            name=name,
            mirror=form.raw("mirror") or frame.mirror,
            **said(request),
        )
    except ShopError as error:
        return refused(request, error, "frame/form.html", "", context)
    return redirect("frame", code)


@require_POST
@for_owner
def frame_wish(request: HttpRequest, code: str) -> HttpResponse:
    """Its tubes go onto the cut list, those that are not on it yet."""
    wishes = wish_frame(frame=get_object_or_404(FRAMES, code=code), **said(request))
    count = len(wishes)
    messages.info(request, f"{count} tube{'s' * (count != 1)} are on the cut list.")
    return redirect("cut-lists")


@for_owner
def node_new(request: HttpRequest, code: str) -> HttpResponse:
    frame = get_object_or_404(FRAMES, code=code)
    return _node_form(request, frame, None)


@for_owner
def node_change(request: HttpRequest, code: str, node: str) -> HttpResponse:
    frame = get_object_or_404(FRAMES, code=code)
    return _node_form(request, frame, get_object_or_404(Node, frame=frame, code=node))


def _node_form(request: HttpRequest, frame: Frame, node: Node | None) -> HttpResponse:
    places = [
        (axis, label, units.show_milli(getattr(node, f"{axis}_um")) if node else "")
        for axis, label in AXES
    ]
    context = {"now": clock.now(), "frame": frame, "node": node, "places": places}
    if request.method != "POST":
        return respond(request, "frame/node.html", "", context)
    try:
        form = Typed(request)
        code = node.code if node else form.needed("code", "Node", most=20)
        place = {}
        for axis, label in AXES:
            form.needed(axis, label, most=40)
            place[f"{axis}_um"] = form.length_um(axis, label) or 0
        form.refuse_if_wrong()
        made = set_node(frame=frame, code=code, **place, **said(request))
    except ShopError as error:
        return refused(request, error, "frame/node.html", "", context)
    shown = ", ".join(units.show_milli(value) for value in place.values())
    messages.info(request, f"Node {made} is at {shown} mm.")
    return redirect("frame" if node else "node-new", frame.code)


@require_POST
@for_owner
def node_remove(request: HttpRequest, code: str, node: str) -> HttpResponse:
    record = get_object_or_404(Node, frame__code=code, code=node)
    remove_node(node=record, **said(request))
    return redirect("frame", code)


@for_owner
def tube_new(request: HttpRequest, code: str) -> HttpResponse:
    return _tube_form(request, get_object_or_404(FRAMES, code=code), None)


@for_owner
def tube_change(request: HttpRequest, code: str, mark: str) -> HttpResponse:
    frame = get_object_or_404(FRAMES, code=code)
    tubes = Tube.objects.select_related("start", "end", "twin").prefetch_related(
        "ends__onto", "bends__node"
    )
    return _tube_form(request, frame, get_object_or_404(tubes, frame=frame, mark=mark))


def _tube_form(request: HttpRequest, frame: Frame, tube: Tube | None) -> HttpResponse:
    context = _tube_choices(frame, tube)
    if request.method != "POST":
        return respond(request, "frame/tube_form.html", "", context)
    try:
        form = Typed(request)
        mark = tube.mark if tube else form.needed("mark", "Mark", most=20)
        form.needed("od", "OD", most=40)
        form.needed("wall", "Wall", most=40)
        fields: dict[str, Any] = {
            "start": form.needed("start", "Start", most=20),
            "end": form.needed("end", "End", most=20),
            "od_um": form.length_um("od", "OD") or 0,
            "wall_um": form.length_um("wall", "Wall") or 0,
            "ends": (_end(form, "start"), _end(form, "end")),
            "bends": _bends(form),
            "material": form.text("material", "Material", most=60),
            "density_kgm3": form.milli("density", "Density"),
            "twin": form.text("twin", "Twin", most=20),
        }
        form.refuse_if_wrong()
        made = set_tube(
            frame=frame,
            mark=mark,
            confirm=bool(request.POST.get("confirm")),
            **fields,
            **said(request),
        )
    except ShopError as error:
        return refused(request, error, "frame/tube_form.html", "", context)
    od, wall = units.show_length(made.od_um), units.show_length(made.wall_um)
    messages.info(request, f"Tube {made}: {od} × {wall}.")
    return redirect("tube", frame.code, made.mark)


@require_POST
@for_owner
def tube_mirror(request: HttpRequest, code: str, mark: str) -> HttpResponse:
    """Draw its twin, with the offsets and the twist turned round."""
    record = get_object_or_404(Tube, frame__code=code, mark=mark)
    try:
        form = Typed(request)
        twin = form.needed("twin_mark", "Mark of the twin", most=20)
        form.refuse_if_wrong()
        made = mirror_tube(tube=record, mark=twin, **said(request))
    except ShopError as error:
        context = tube_context(code, mark)
        return refused(request, error, "frame/tube.html", "", context)
    messages.info(request, f"{made} mirrors {mark}.")
    return redirect("tube", code, made.mark)


@require_POST
@for_owner
def tube_remove(request: HttpRequest, code: str, mark: str) -> HttpResponse:
    remove_tube(
        tube=get_object_or_404(Tube, frame__code=code, mark=mark), **said(request)
    )
    messages.info(request, f"{mark} is taken out; the log keeps what it was.")
    return redirect("frame", code)


def _tube_choices(frame: Frame, tube: Tube | None) -> dict[str, Any]:
    nodes = [(node.code, node.code) for node in frame.nodes.all()]
    others = [
        one.mark for one in frame.tubes.all() if tube is None or one.pk != tube.pk
    ]
    ends = {end.which: end for end in tube.ends.all()} if tube else {}
    return {
        "now": clock.now(),
        "frame": frame,
        "tube": tube,
        "nodes": nodes,
        "onto": [
            ("", "nothing: it runs through"),
            *((mark, mark) for mark in others),
            ("plate", "a plate, or no tube"),
        ],
        "twins": [("", "none"), *((mark, mark) for mark in others)],
        "materials": [row.code for row in materials().values()],
        "reads": READS,
        "od": units.show_milli(tube.od_um) if tube else "",
        "wall": units.show_milli(tube.wall_um) if tube else "",
        "density": (
            units.show_milli(tube.density_kgm3) if tube and tube.density_kgm3 else ""
        ),
        "ends": [
            _end_row("start", "Start", ends.get(1), tube.start.code if tube else ""),
            _end_row("end", "End", ends.get(2), tube.end.code if tube else ""),
        ],
        "bends": " ".join(
            f"{bend.node.code}:{units.show_milli(bend.radius_um)}"
            for bend in (tube.bends.all() if tube else ())
        ),
    }


def _end_row(name: str, label: str, end: Any, node: str) -> dict[str, Any]:
    onto = ""
    if end is not None:
        onto = "plate" if end.kind == "plate" else end.onto.mark if end.onto else ""
    return {
        "name": name,
        "label": label,
        "node": node,
        "onto": onto,
        "offset": units.show_milli(end.offset_um) if end and end.offset_um else "",
        "past": units.show_milli(end.past_um) if end and end.past_um else "",
        "angle": units.show_milli(end.typed_mdeg) if end and end.typed_mdeg else "",
        "joint": end.joint if end else "",
    }


def _end(form: Typed, name: str) -> EndSaid:
    onto = form.text(f"{name}_onto", "Coped onto", most=20)
    typed = None
    if seen := form.raw(f"{name}_angle"):
        try:
            read = angle_read(seen, field=f"{name}_angle", label="Angle")
            typed = round(read * 1000)
        except ShopError as error:
            form.errors.extend(error.errors)
    # Asked whether it was the dial, the key that was tapped says for which end.
    is_dial = form.raw("dial") == f"{name}_angle"
    return EndSaid(
        onto="" if onto == "plate" else onto,
        offset_um=form.length_um(f"{name}_offset", "Offset") or 0,
        past_um=form.length_um(f"{name}_past", "Past the node"),
        typed_mdeg=typed,
        is_dial=is_dial or form.raw(f"{name}_reads") == "dial",
        is_plate=onto == "plate",
        joint=form.text(f"{name}_joint", "Joint", most=40),
    )


def _bends(form: Typed) -> list[tuple[str, int]]:
    bends = []
    for told in re.split(r"[\s;]+", form.raw("bends")):
        if not told:
            continue
        code, _, radius = told.partition(":")
        try:
            length = units.parse_length_um(radius, field="bends", label="Bends")
        except ShopError:
            length = None
        if length is None or length <= 0:
            form.wrong(
                "bends", f"Bends: “{told[:40]}” is not a node and a radius like K1:40."
            )
        else:
            bends.append((code, length))
    return bends
