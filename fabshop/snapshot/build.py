"""Live builds and the places on them, as facts."""

from __future__ import annotations

from collections import defaultdict

from fabshop import words
from fabshop.reckoning.facts import BuildFact, ComponentFact, FasteningFact
from fabshop.records.build import Build, Component, Cover, Fastening
from fabshop.snapshot.clock import Clock


def build_facts(builds: list[Build], clock: Clock) -> tuple[BuildFact, ...]:
    return tuple(
        BuildFact(
            id=build.slug,
            name=build.name,
            pack_out=clock.to_plan(build.pack_out_at) if build.pack_out_at else None,
            event_on=build.event_on,
        )
        for build in builds
    )


def component_facts(builds: list[Build]) -> tuple[ComponentFact, ...]:
    """Everything that sits, or should sit, on these builds; what is retired is left.

    A cover that is retired lies over nothing any more.
    """
    slugs = {build.pk: build.slug for build in builds}
    parts = list(Component.objects.present().filter(build_id__in=slugs))
    codes = {part.pk: part.code for part in parts}
    routes = _routes(codes, slugs)
    fastenings = _fastenings(slugs)
    return tuple(
        ComponentFact(
            id=part.code,
            build=slugs[part.build_id],
            name=part.name,
            state=words.ComponentState(part.state),
            is_on=part.is_on,
            twin=codes.get(part.twin_id, "") if part.twin_id else "",
            side=words.Side(part.side),
            off_minutes=part.off_minutes,
            on_minutes=part.on_minutes,
            routes=routes.get(part.pk, ()),
            for_good=part.is_for_good,
            held_by=part.held_by,
            watch=part.watch,
            bares_battery_plug=part.bares_battery_plug,
            fastenings=tuple(fastenings.get(part.pk, ())),
        )
        for part in parts
    )


def _routes(
    codes: dict[int, str], slugs: dict[int, str]
) -> dict[int, tuple[tuple[str, ...], ...]]:
    ways: dict[int, dict[int, list[str]]] = defaultdict(lambda: defaultdict(list))
    rows = (
        Cover.objects.filter(under__build_id__in=slugs)
        .order_by("under_id", "route", "cover_id")
        .values_list("under_id", "route", "cover_id")
    )
    for under, route, cover in rows:
        way = ways[under][route]
        if cover in codes:
            way.append(codes[cover])
    return {
        under: tuple(tuple(sorted(way)) for way in numbered.values())
        for under, numbered in ways.items()
    }


def _fastenings(slugs: dict[int, str]) -> dict[int, list[FasteningFact]]:
    found: dict[int, list[FasteningFact]] = defaultdict(list)
    for row in Fastening.objects.filter(component__build_id__in=slugs):
        found[row.component_id].append(
            FasteningFact(
                count=row.count,
                size=row.size,
                locker=words.Locker(row.locker),
                single_use=row.is_single_use,
                screw=row.is_screw,
                bag=row.bag,
                torque_mnm=row.torque_mnm,
            )
        )
    return found
