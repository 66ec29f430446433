"""Builds, and what sits where on each: stand-ins, what is off, what lies under what."""

from __future__ import annotations

from collections.abc import Iterable

from django.db.models import Count, Q
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404

from fabshop import clock, words
from fabshop.records.build import Build, Component
from fabshop.snapshot import must_come_off, take
from fabshop.web.cover import Place, picture_of
from fabshop.web.gate import signed_in
from fabshop.web.respond import respond

# What asks most of the owner stands first.
STATES = (
    (words.ComponentState.MISSING, "Missing"),
    (words.ComponentState.STAND_IN, "Stand-ins"),
    (words.ComponentState.DRY_FIT, "Dry-fit"),
    (words.ComponentState.FINAL, "Final"),
)


@signed_in
def build_list(request: HttpRequest) -> HttpResponse:
    builds = Build.objects.annotate(
        present=Count(
            "components", filter=~Q(components__state="retired"), distinct=True
        ),
        stand_ins=Count(
            "components", filter=Q(components__state="stand-in"), distinct=True
        ),
        missing=Count(
            "components", filter=Q(components__state="missing"), distinct=True
        ),
        unfinished=Count(
            "tasks", filter=Q(tasks__state__in=["open", "under-way"]), distinct=True
        ),
    )
    live = [build for build in builds if build.state != words.BuildState.CLOSED]
    context = {
        "now": clock.now(),
        "builds": builds,
        "live": len(live),
        "unfinished": sum(build.unfinished for build in live),
    }
    return respond(request, "build/list.html", "", context)


@signed_in
def build_fitted(request: HttpRequest, slug: str) -> HttpResponse:
    build = get_object_or_404(Build, slug=slug)
    components = list(
        build.components.present()
        .select_related("twin")
        .prefetch_related("fastenings", "covers__cover")
    )
    covers = {
        component.code: [cover.cover.code for cover in component.covers.all()]
        for component in components
    }
    context = {
        "now": clock.now(),
        "build": build,
        "components": components,
        "groups": [
            (state, title, [c for c in components if c.state == state])
            for state, title in STATES
            if any(c.state == state for c in components)
        ],
        "off": [c for c in components if not c.is_on and c.state != "missing"],
        "again": must_come_off(take(clock.now()), slug),
        "uneven": uneven_twins(components),
        "picture": picture_of(
            (Place(c.code, c.name, c.state, c.is_on) for c in components), covers
        ),
    }
    return respond(request, "build/fitted.html", "", context)


def uneven_twins(components: Iterable[Component]) -> list[tuple[Component, Component]]:
    """Pairs of which one side is not in the state of the other, each pair once."""
    pairs = []
    for component in components:
        twin = component.twin
        if twin and component.state != twin.state and component.code < twin.code:
            pairs.append((component, twin))
    return pairs
