"""The pull list of a teardown: everything to have at the bench before it begins."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.shortcuts import get_object_or_404

from fabshop import words
from fabshop.clock import now
from fabshop.paper.caution import protection_for
from fabshop.paper.plan import code_of
from fabshop.paper.plan_row import steps_of
from fabshop.paper.sheet import Sheet, entries_so_far
from fabshop.reckoning.facts import Facts, TaskFact
from fabshop.reckoning.readiness import Want, wants
from fabshop.reckoning.shelf import (
    Use,
    hardware,
    last_good_day,
    planned_days,
    stands,
)
from fabshop.reckoning.shelf.stand import amount
from fabshop.records.build import Component
from fabshop.records.plan import Plan
from fabshop.records.task import Need, Task
from fabshop.reference.caution import told as told_of
from fabshop.snapshot import accepted_plans, plan_clock, take, wall_of
from fabshop.snapshot.shelf import consumable_facts, tray_facts
from fabshop.units import show_day, show_length, show_moment, show_quantity

RACK = "rack"
BOX = "still in the box"
BAD = (words.Keeps.GONE_OFF, words.Keeps.GOES_OFF_FIRST)


@dataclass(frozen=True)
class Pull:
    """One thing to fetch; `place`, `expiry` and `quantity` are "" where unknown.

    `keeps` says how its last good day lies to the day of its use, `overruled` why the
    owner lets it be used gone off.
    """

    place: str
    code: str
    what: str
    task: str
    quantity: str = ""
    hand: str = ""
    state: words.ComponentState | None = None
    can_expire: bool = False
    short: str = ""
    instead: str = ""
    expiry: str = ""
    keeps: words.Keeps | None = None
    overruled: str = ""


@dataclass(frozen=True)
class Absent:
    """A line that a task still lacks: when it comes, and whose move it is."""

    line: str
    title: str
    tasks: list[str]
    likely: str
    late: str
    move: words.Move
    firm: str


def pull_list(pk: int) -> Sheet:
    """Everything that the plan's tasks need, by place, and what is not in hand."""
    plan = get_object_or_404(Plan.objects.select_related("build"), pk=pk)
    facts = take(now())
    wall = wall_of(plan)
    steps = [step for _, step in steps_of(plan)]
    days = {
        step["id"]: wall.at(step["start"]) for step in steps if step["do"] == "task"
    }
    off = [
        facts.component_by_id[step["id"]]
        for step in steps
        if step["do"] == "remove" and step["id"] in facts.component_by_id
    ]
    return Sheet(
        name="pull-list",
        title="Pull list",
        template="paper/plan/pull_list.html",
        path=f"/plans/{plan.pk}/",
        code=code_of(plan),
        filename=f"{plan.build.slug}-pull-list",
        subject=plan.build.name,
        made_at=plan.made_at,
        offset_minutes=plan.utc_offset_minutes,
        edition=plan.edition,
        digest=plan.digest,
        entries=plan.entries,
        context={
            "head": f"{plan.build.name}: pull list for the {plan.goal}",
            **_pulled(facts, list(days), days),
            "hardware": hardware(off, tray_facts()),
        },
    )


def task_pull_list(code: str) -> Sheet:
    """Everything that one task needs, by place, and what is not in hand."""
    task = get_object_or_404(Task.objects.select_related("build"), code=code)
    moment = now()
    facts = take(moment)
    pulled = _pulled(facts, [task.code], accepted_plans(facts).planned)
    return Sheet(
        name="pull-list",
        title="Pull list",
        template="paper/plan/pull_list.html",
        path=f"/tasks/{task.code}/",
        code=task.code,
        filename=f"{task.code}-pull-list",
        subject=task.build.name if task.build else "Shared by all builds",
        made_at=moment,
        offset_minutes=plan_clock(moment).offset_minutes,
        entries=entries_so_far(),
        # A teardown's cautions stand on its own sheet; a task has no other.
        context={
            "head": f"{task}: pull list",
            **pulled,
            "cautions": told_of(pulled["hazards"]),
        },
    )


def _pulled(
    facts: Facts, names: list[str], planned: Mapping[str, datetime]
) -> dict[str, Any]:
    tasks = list(
        Task.objects.filter(code__in=names).prefetch_related(
            "needs__line__order", "needs__line__component", "fallbacks", "stages"
        )
    )
    known = [facts.task_by_id[name] for name in names if name in facts.task_by_id]
    builds = {task.build_id for task in tasks if task.build_id}
    parts = {part.code: part for part in Component.objects.filter(build__in=builds)}
    lacking = wants(facts)
    found = stands(consumable_facts(), facts, planned_days(facts, planned))
    uses = {(use.task, use.thing.id): use for one in found for use in one.uses}
    pulls = [
        *(pull for task in tasks for pull in _needed(task, facts, lacking, uses)),
        *(pull for task in known for pull in _fitted(task, parts, tasks)),
    ]
    used = [use for (task, _), use in uses.items() if task in names]
    return {
        # In walking order; what has no place yet comes last.
        "pulls": sorted(pulls, key=lambda p: (not p.place, p.place, p.code)),
        "absent": _absent(known, facts, lacking),
        "tools": sorted(_tools(tasks)),
        "protection": protection_for(known),
        "hazards": [use.thing.hazard for use in used if use.thing.hazard],
    }


def _needed(
    task: Task,
    facts: Facts,
    lacking: dict[str, tuple[Want, ...]],
    uses: dict[tuple[str, str], Use],
) -> Iterator[Pull]:
    wanted = {want.line: want for want in lacking.get(task.code, ())}
    for need in task.needs.all():
        if need.kind == words.NeedKind.TOOL:
            continue
        if need.line is None:
            yield _from_the_shop(task, need, facts, uses)
            continue
        line = need.line
        unit = words.Unit(line.unit)
        code = f"{line.order.code}/{line.number}"
        want = wanted.get(code)
        fact = facts.line_by_id.get(code)
        part = line.component
        yield Pull(
            place=BOX if fact and fact.in_the_box else (part.place if part else ""),
            code=code,
            what=line.title,
            task=task.code,
            quantity=show_quantity(need.quantity_milli or line.quantity_milli, unit),
            hand=words.Side(line.hand).label,
            state=words.ComponentState.FINAL if part else None,
            can_expire=part is None and _is_used_up(task, unit),
            short=show_quantity(want.lacking_milli, unit) if want else "",
            instead="; ".join(f.title for f in task.fallbacks.all()) if want else "",
        )


def _from_the_shop(
    task: Task, need: Need, facts: Facts, uses: dict[tuple[str, str], Use]
) -> Pull:
    """Some of a consumable, a length of a piece, or a code that nobody has noted."""
    code = need.rack_code
    if use := uses.get((task.code, code)):
        stand = last_good_day(use.thing)
        return Pull(
            place=use.thing.place,
            code=code,
            what=f"{use.thing.name} {need.note}".strip(),
            task=task.code,
            quantity=amount(use.thing, use.quantity_milli)
            if use.quantity_milli
            else "",
            can_expire=not use.thing.is_lasting,
            short=amount(use.thing, use.lacking_milli) if use.lacking_milli else "",
            expiry=show_day(stand) if stand else "",
            keeps=use.keeps if use.keeps in BAD else None,
            overruled=use.waived,
        )
    piece = facts.piece_by_id.get(code)
    unit = words.Unit.PIECE
    if piece is not None:
        return Pull(
            place=piece.place or RACK,
            code=code,
            what=f"{piece.name} {piece.section} {need.note}".strip(),
            task=task.code,
            quantity=show_length(need.quantity_milli) if need.quantity_milli else "",
        )
    return Pull(
        place=RACK,
        code=code,
        what=need.note,
        task=task.code,
        quantity=show_quantity(need.quantity_milli, unit)
        if need.quantity_milli
        else "",
        can_expire=True,
    )


def _is_used_up(task: Task, unit: words.Unit) -> bool:
    """Adhesives, resins and the like, of which the day of use matters."""
    measured = unit in (words.Unit.GRAM, words.Unit.MILLILITRE)
    return measured or any(s.kind == words.StageKind.CURE for s in task.stages.all())


def _fitted(
    task: TaskFact, parts: dict[str, Component], tasks: list[Task]
) -> Iterator[Pull]:
    """The parts it fits, unless an order line that it needs is that very part."""
    bought = {
        need.line.component.code
        for row in tasks
        if row.code == task.id
        for need in row.needs.all()
        if need.line is not None and need.line.component is not None
    }
    for name in task.fits:
        if name in parts and name not in bought:
            part = parts[name]
            yield Pull(
                place=part.place,
                code=part.code,
                what=part.name,
                task=task.id,
                quantity="1",
                hand=words.Side(part.side).label,
                state=words.ComponentState.FINAL,
            )


def _absent(
    tasks: list[TaskFact], facts: Facts, lacking: dict[str, tuple[Want, ...]]
) -> list[Absent]:
    found: dict[str, Absent] = {}
    for task in tasks:
        for want in lacking.get(task.id, ()):
            if want.line in found:
                found[want.line].tasks.append(task.id)
                continue
            line, arrival = facts.line_by_id[want.line], want.arrival
            order = facts.order_by_id[line.order]
            likely = arrival.likely_at if arrival else None
            late = arrival.late_at if arrival else None
            found[want.line] = Absent(
                line=line.id,
                title=line.title,
                tasks=[task.id],
                likely=show_moment(likely) if likely else "nobody knows",
                late=show_moment(late) if late else "",
                move=order.move,
                firm=order.supplier,
            )
    return sorted(found.values(), key=lambda row: row.line)


def _tools(tasks: list[Task]) -> set[str]:
    return {
        _tool(need)
        for task in tasks
        for need in task.needs.all()
        if need.kind == words.NeedKind.TOOL
    }


def _tool(need: Need) -> str:
    return need.note or need.rack_code
