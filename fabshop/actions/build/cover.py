"""What lies over a component; a loop is refused and named in words."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from django.db import transaction

from fabshop import words
from fabshop.actions.build.change import locked
from fabshop.actions.log.entry import write_entry
from fabshop.actions.moved import move
from fabshop.actions.shop.allowed import require
from fabshop.errors import BadInput, Clash
from fabshop.records.build import Build, Component, Cover
from fabshop.records.shop import Person

MOST_ROUTES = 50

Routes = Sequence[Sequence[Component | str]]


@transaction.atomic
def set_covers(
    *,
    by: Person,
    component: Component,
    routes: Routes,
    now: datetime,
    version: int | None = None,
) -> Component:
    """Say what must be off to reach `component`: one whole route is enough.

    No route means that it can be reached as it stands. A blank route is none.
    """
    require(by, "own")
    # Two people may each save half of a loop: the build is held, so that the second
    # sees what the first has written.
    Build.objects.select_for_update().get(pk=component.build_id)
    component = locked(component)
    wanted = _resolved(component, routes)
    kept = _kept_routes(component)
    if wanted == kept:
        return component
    if version is not None and version != component.version:
        raise Clash(
            f"{component.code} has changed since you opened it. It lies under: you "
            f"wrote {_said(wanted)}, by now it reads {_said(kept)}. "
            "Save again to keep yours.",
            field="routes",
            code="changed-meanwhile",
        )
    _refuse_loop(component, {part for route in wanted for part in route})
    component.covers.all().delete()
    Cover.objects.bulk_create(
        Cover(under=component, cover=part, route=number)
        for number, route in enumerate(wanted, start=1)
        for part in route
    )
    move(component, {})
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        component=component,
        text=f"{component.code} lies under {_said(wanted)}.",
    )
    return component


def _resolved(component: Component, routes: Routes) -> list[list[Component]]:
    """The parts that are meant, each route in the order of codes, none twice."""
    if len(routes) > MOST_ROUTES:
        raise BadInput(
            f"Lies under: {len(routes)} routes, but at most {MOST_ROUTES} are kept.",
            field="routes",
        )
    codes = {part for route in routes for part in route if isinstance(part, str)}
    known = {
        part.code: part
        for part in Component.objects.filter(code__in=codes).select_related("build")
    }
    meant: list[list[Component]] = []
    for route in routes:
        parts = {}
        for part in route:
            if isinstance(part, str):
                if part not in known:
                    raise BadInput(
                        f"Lies under: there is no {part[:40]} here.", field="routes"
                    )
                part = known[part]
            _refuse_cover(component, part)
            parts[part.code] = part
        ordered = [parts[code] for code in sorted(parts)]
        if ordered and ordered not in meant:
            meant.append(ordered)
    return meant


def _refuse_cover(component: Component, part: Component) -> None:
    if part.pk == component.pk:
        raise BadInput("A part cannot lie under itself.", field="routes")
    if part.build_id != component.build_id:
        raise BadInput(
            f"{part} is on {part.build.name} and {component.code} on "
            f"{component.build.name}; a part lies under parts of its own build. "
            "Is it a shared spare?",
            field="routes",
        )
    if part.state == words.ComponentState.RETIRED:
        raise BadInput(f"{part} is retired and lies over nothing.", field="routes")


def _kept_routes(component: Component) -> list[list[Component]]:
    kept: dict[int, list[Component]] = {}
    covers = component.covers.select_related("cover").order_by("route", "cover__code")
    for cover in covers:
        kept.setdefault(cover.route, []).append(cover.cover)
    return list(kept.values())


def _refuse_loop(component: Component, covers: set[Component]) -> None:
    """Look from what shall lie over `component` upwards, whether it comes back."""
    over: dict[int, list[Component]] = {}
    links = Cover.objects.filter(under__build_id=component.build_id).exclude(
        under=component
    )
    for link in links.select_related("cover"):
        over.setdefault(link.under_id, []).append(link.cover)
    # Breadth first, by codes: the loop that is told is a shortest, always the same.
    paths = [[component, part] for part in sorted(covers, key=_code)]
    seen = {path[-1].pk for path in paths}
    for path in paths:
        for part in sorted(over.get(path[-1].pk, []), key=_code):
            if part.pk == component.pk:
                loop = [*path, component]
                raise Clash(
                    "That would be a loop: "
                    + ", ".join(
                        f"{under.code} lies under {cover.code}"
                        for under, cover in zip(loop, loop[1:], strict=False)
                    )
                    + ".",
                    field="routes",
                    code="loop",
                )
            if part.pk not in seen:
                seen.add(part.pk)
                paths.append([*path, part])


def _code(component: Component) -> str:
    return component.code


def _said(routes: list[list[Component]]) -> str:
    return (
        ", or ".join(" and ".join(part.code for part in route) for route in routes)
        or "nothing"
    )
