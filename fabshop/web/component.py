"""A place on a build: what is there, how it is held, what shuts it in, its history."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.db.models import Q
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from fabshop import clock, words
from fabshop.actions.build import put_on, swap_component, take_off
from fabshop.errors import ShopError
from fabshop.reckoning.facts import ComponentFact, Facts, TaskFact
from fabshop.reckoning.readiness.shut import Shut, shut_in
from fabshop.records.build import Component
from fabshop.records.log import LogEntry
from fabshop.records.order import OrderLine
from fabshop.snapshot import must_come_off, take
from fabshop.web.cover import Picture, Place, picture_of
from fabshop.web.gate import for_writers, signed_in
from fabshop.web.photo import photos_of
from fabshop.web.respond import refused, respond
from fabshop.web.tap import tap

COMPONENTS = Component.objects.select_related("build", "twin").prefetch_related(
    "fastenings", "covers__cover", "lies_over__under", "sites__task"
)


@signed_in
def component(request: HttpRequest, code: str) -> HttpResponse:
    return respond(request, "component/detail.html", "", component_context(code))


@require_POST
@for_writers
def component_off(request: HttpRequest, code: str) -> HttpResponse:
    record = get_object_or_404(COMPONENTS, code=code)
    try:
        take_off(
            component=record,
            with_covers=request.POST.get("with_covers") == "1",
            confirm=bool(request.POST.get("confirm")),
            **tap(request),
        )
    except ShopError as error:
        return _refused(request, error, code, asked="off")
    return redirect("component", code)


@require_POST
@for_writers
def component_on(request: HttpRequest, code: str) -> HttpResponse:
    record = get_object_or_404(COMPONENTS, code=code)
    try:
        put_on(
            component=record, for_now=request.POST.get("for_now", ""), **tap(request)
        )
    except ShopError as error:
        return _refused(request, error, code, asked="on")
    return redirect("component", code)


@require_POST
@for_writers
def component_swap(request: HttpRequest, code: str) -> HttpResponse:
    record = get_object_or_404(COMPONENTS, code=code)
    try:
        state = words.ComponentState(request.POST.get("state", ""))
    except ValueError:
        state = words.ComponentState(record.state)
    try:
        seen = request.POST.get("seen", "")
        swap_component(component=record, state=state, seen=seen, **tap(request))
    except ShopError as error:
        return _refused(request, error, code, asked="swap")
    return redirect("component", code)


def component_context(code: str) -> dict[str, Any]:
    """What the page of one component shows, in a fixed number of queries."""
    record = get_object_or_404(COMPONENTS, code=code)
    facts = take(clock.now())
    routes: dict[int, list[Component]] = {}
    for cover in record.covers.all():
        routes.setdefault(cover.route, []).append(cover.cover)
    shut = _shut(code, facts)
    lines = OrderLine.objects.filter(
        Q(component=record) | Q(needed_by__task__sites__component=record)
    )
    return {
        "now": clock.now(),
        "component": record,
        "build": record.build,
        "routes": list(routes.values()),
        "again": next(
            (a for a in must_come_off(facts, record.build.slug) if a.component == code),
            None,
        ),
        "shut": shut,
        "shut_in": [facts.component_by_id[c] for c in shut.components],
        "over": [cover.under for cover in record.lies_over.all()],
        "sites": record.sites.all(),
        "lines": lines.select_related("order__supplier").distinct(),
        "entries": LogEntry.objects.filter(component=record).select_related("person")[
            :20
        ],
        "picture": _picture(facts.components, code),
        "photos": photos_of(component=record),
        "states": [
            (word, word.label)
            for word in words.ComponentState
            if word not in (words.ComponentState.RETIRED, record.state)
        ],
    }


def _picture(components: Iterable[ComponentFact], code: str) -> Picture | None:
    """Only what lies over this component, at any depth, and right under it."""
    components = tuple(components)
    by_code = {c.id: c for c in components}
    if code not in by_code:
        return None
    over = {c.id: {i for route in c.routes for i in route} for c in components}
    shown, left = {code}, [code]
    while left:
        more = over.get(left.pop(), set()) - shown
        shown |= more
        left.extend(more)
    shown |= {c for c, covers in over.items() if code in covers}
    return picture_of(
        (Place(c, by_code[c].name, by_code[c].state, by_code[c].is_on) for c in shown),
        over,
    )


def _shut(code: str, facts: Facts) -> Shut:
    """What must come off before this one can, outermost first; nothing if it is off."""
    place = facts.component_by_id.get(code)
    if place is None or not place.is_on:
        return Shut()
    return shut_in(TaskFact(code, place.build, place.name, reach=(code,)), facts)


def _refused(
    request: HttpRequest, error: ShopError, code: str, *, asked: str
) -> HttpResponse:
    context = {**component_context(code), "asked": asked}
    return refused(request, error, "component/detail.html", "", context)
