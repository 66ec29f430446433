"""Getting a component in, one thing a screen: itself, its covers, how it is held."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from fabshop import clock, units, words
from fabshop.actions.build import (
    add_component,
    change_component,
    link_twins,
    retire_component,
    set_covers,
    set_fastenings,
    unlink_twin,
)
from fabshop.errors import BadInput, NotFound, ShopError
from fabshop.records.build import Build, Component
from fabshop.web.gate import for_owner
from fabshop.web.respond import Context, refused, respond
from fabshop.web.tap import said
from fabshop.web.typed import Typed

# More than this are not ticked in a list but written by their codes.
MOST_TO_TICK = 200
SPARE_ROWS = 2
FASTENING_FIELDS = ("count", "size", "locker", "torque", "bag", "single_use", "other")


@for_owner
def component_new(request: HttpRequest, slug: str) -> HttpResponse:
    build = get_object_or_404(Build, slug=slug)
    context = {**_choices(), "build": build, "component": None}
    if request.method != "POST":
        return respond(request, "component/form.html", "", context)
    try:
        form = Typed(request)
        code = form.needed("code", "Code", most=40)
        fields = _fields(form)
        form.refuse_if_wrong()
        made = add_component(build=build, code=code, **fields, **said(request))
    except ShopError as error:
        return refused(request, error, "component/form.html", "", context)
    return redirect(reverse("component-covers", args=[made.code]) + "?new=1")


@for_owner
def component_change(request: HttpRequest, code: str) -> HttpResponse:
    component = get_object_or_404(Component.objects.select_related("build"), code=code)
    context = {**_choices(), "build": component.build, "component": component}
    if request.method != "POST":
        return respond(request, "component/form.html", "", context)
    try:
        form = Typed(request)
        fields = _fields(form)
        version = form.whole("version", "Version") or 0
        form.refuse_if_wrong()
        change_component(
            component=component, version=version, **fields, **said(request)
        )
    except ShopError as error:
        return refused(request, error, "component/form.html", "", context)
    return redirect("component", code)


@for_owner
def component_covers(request: HttpRequest, code: str) -> HttpResponse:
    """Routes: each lists what must be off to reach it, any one of them is enough."""
    component = get_object_or_404(
        Component.objects.select_related("build").prefetch_related("covers__cover"),
        code=code,
    )
    context = _covers_context(component, request)
    if request.method != "POST" or request.POST.get("more"):
        return respond(request, "component/covers.html", "", context)
    try:
        routes = [codes for _, codes, _ in context["routes"] if codes]
        set_covers(component=component, routes=routes, **said(request))
    except ShopError as error:
        return refused(request, error, "component/covers.html", "", context)
    return _on(request, component, "component-fastenings")


@for_owner
def component_fastenings(request: HttpRequest, code: str) -> HttpResponse:
    component = get_object_or_404(
        Component.objects.select_related("build").prefetch_related("fastenings"),
        code=code,
    )
    rows = _fastening_rows(component, request)
    context = {
        **_choices(),
        "component": component,
        "rows": rows,
        "is_new": "new" in request.GET,
    }
    if request.method != "POST" or request.POST.get("more"):
        return respond(request, "component/fastenings.html", "", context)
    try:
        set_fastenings(
            component=component, fastenings=_fastenings(request), **said(request)
        )
    except ShopError as error:
        return refused(request, error, "component/fastenings.html", "", context)
    return _on(request, component, "component-twin")


@for_owner
def component_twin(request: HttpRequest, code: str) -> HttpResponse:
    component = get_object_or_404(
        Component.objects.select_related("build", "twin"), code=code
    )
    others = component.build.components.present().exclude(pk=component.pk)
    context = {
        "now": clock.now(),
        "component": component,
        "is_new": "new" in request.GET,
        "others": [("", "no twin"), *((c.code, str(c)) for c in others)],
    }
    if request.method != "POST":
        return respond(request, "component/twin.html", "", context)
    try:
        seen = Typed(request).text("twin", "Twin", most=40)
        twin = others.filter(code=seen).first()
        if seen and twin is None:
            raise NotFound(
                f"Twin: “{seen}” is no other component of {component.build}.",
                field="twin",
            )
        if twin is not None:
            link_twins(component=component, twin=twin, **said(request))
        elif component.twin is not None:
            unlink_twin(component=component, **said(request))
    except ShopError as error:
        return refused(request, error, "component/twin.html", "", context)
    if "new" in request.GET:
        messages.info(request, f"{component} is in.")
        return redirect("component-new", component.build.slug)
    return redirect("component", code)


@require_POST
@for_owner
def component_retire(request: HttpRequest, code: str) -> HttpResponse:
    component = get_object_or_404(Component, code=code)
    retire_component(component=component, **said(request))
    messages.info(request, f"{code} is retired. Its history stays.")
    return redirect("component", code)


def _on(request: HttpRequest, component: Component, then: str) -> HttpResponse:
    """To the next screen where the component is new, else back to its page."""
    if "new" in request.GET:
        return redirect(reverse(then, args=[component.code]) + "?new=1")
    return redirect("component", component.code)


def _choices() -> Context:
    made = [w for w in words.ComponentState if w is not words.ComponentState.RETIRED]
    return {
        "now": clock.now(),
        "states": [(w.value, w.label) for w in made],
        "sides": [("", "no side"), ("L", "left"), ("R", "right")],
        "lockers": words.Locker.choices(),
        "bases": [("est", "estimated"), ("wgd", "weighed")],
    }


def _fields(form: Typed) -> dict[str, Any]:
    mass_mg = form.mass_mg("mass", "Mass")
    basis = form.choice(
        "mass_basis",
        "How the mass is known",
        words.MassBasis,
        words.MassBasis.ESTIMATED,
    )
    return {
        "name": form.needed("name", "Name", most=120),
        "state": form.choice(
            "state", "State", words.ComponentState, words.ComponentState.FINAL
        ),
        "side": form.choice("side", "Side", words.Side, words.Side.NONE),
        "off_minutes": form.minutes("off_minutes", "Minutes to take it off"),
        "on_minutes": form.minutes("on_minutes", "Minutes to put it on"),
        "held_by": form.text("held_by", "Held by", most=120),
        "is_for_good": form.is_ticked("is_for_good"),
        "watch": form.text("watch", "Watch", most=200),
        "place": form.text("place", "Place", most=60),
        "bares_battery_plug": form.is_ticked("bares_battery_plug"),
        "mass_mg": mass_mg,
        "mass_basis": basis if mass_mg is not None else "",
        **({"confirm": True} if form.is_ticked("confirm") else {}),
    }


def _covers_context(component: Component, request: HttpRequest) -> Context:
    others = list(component.build.components.present().exclude(pk=component.pk))
    known: dict[int, list[str]] = {}
    for cover in component.covers.all():
        known.setdefault(cover.route, []).append(cover.cover.code)
    routes = list(known.values()) or [[]]
    if request.method == "POST":
        form = Typed(request)
        count = min(max(form.whole("routes", "Ways") or 1, 1), 9)
        routes = [form.codes(f"route-{n}") for n in range(1, count + 1)]
        if request.POST.get("more"):
            routes.append([])
    to_tick = others if len(others) <= MOST_TO_TICK else []
    shown = {other.code for other in to_tick}
    return {
        "now": clock.now(),
        "component": component,
        "others": to_tick,
        # What was written and is in no list to tick must come back to be seen.
        "routes": [
            (f"route-{n}", codes, " ".join(c for c in codes if c not in shown))
            for n, codes in enumerate(routes, start=1)
        ],
        "is_new": "new" in request.GET,
    }


def _fastening_rows(component: Component, request: HttpRequest) -> list[dict[str, Any]]:
    if request.method == "POST":
        form = Typed(request)
        rows = [
            {
                "number": n,
                **{name: form.raw(f"f-{n}-{name}") for name in FASTENING_FIELDS},
            }
            for n in form.rows("f", FASTENING_FIELDS)
        ]
    else:
        rows = [
            {
                "number": n,
                "count": f.count,
                "size": f.size,
                "locker": f.locker,
                "torque": ""
                if f.torque_mnm is None
                else units.show_milli(f.torque_mnm),
                "bag": f.bag,
                "single_use": f.is_single_use,
                "other": not f.is_screw,
            }
            for n, f in enumerate(component.fastenings.all())
        ]
    first = max((row["number"] for row in rows), default=-1) + 1
    blank = {name: "" for name in FASTENING_FIELDS} | {"locker": "dry"}
    return rows + [{**blank, "number": first + n} for n in range(SPARE_ROWS)]


def _fastenings(request: HttpRequest) -> list[dict[str, Any]]:
    form = Typed(request)
    found = []
    for n in form.rows("f", ("count", "size", "torque", "bag")):
        count = form.whole(f"f-{n}-count", f"How many, line {n + 1}")
        if count == 0 or (count is None and not form.raw(f"f-{n}-count")):
            form.wrong(f"f-{n}-count", f"How many, line {n + 1}: at least 1.")
        found.append(
            {
                "count": count,
                "size": form.needed(f"f-{n}-size", f"Size, line {n + 1}", most=40),
                "locker": form.choice(
                    f"f-{n}-locker", "Locker", words.Locker, words.Locker.NONE
                ),
                # Newton metres on the page, thousandths of them in the record.
                "torque_mnm": form.milli(f"f-{n}-torque", f"Torque, line {n + 1}"),
                "bag": form.text(f"f-{n}-bag", f"Bag, line {n + 1}", most=20),
                "is_single_use": form.is_ticked(f"f-{n}-single_use"),
                "is_screw": not form.is_ticked(f"f-{n}-other"),
            }
        )
        if found[-1]["torque_mnm"] is not None and found[-1]["torque_mnm"] < 0:
            form.wrong(f"f-{n}-torque", f"Torque, line {n + 1}: less than nothing.")
    form.refuse_if_wrong()
    if len(found) > 30:
        raise BadInput("More than 30 kinds of fastening hold nothing.", field="f")
    return found
