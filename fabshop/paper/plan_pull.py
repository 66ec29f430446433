"""The pull list of a teardown: everything to have at the bench before it begins."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from django.shortcuts import get_object_or_404

from fabshop import words
from fabshop.clock import now
from fabshop.paper.caution import protection_for
from fabshop.paper.plan import code_of, disturbed
from fabshop.paper.plan_row import steps_of
from fabshop.paper.sheet import Sheet
from fabshop.reckoning.facts import Facts, TaskFact
from fabshop.reckoning.readiness import Want, wants
from fabshop.records.build import Component
from fabshop.records.plan import Plan
from fabshop.records.task import Need, Task
from fabshop.snapshot import take
from fabshop.units import show_moment, show_quantity

RACK = "rack"
BOX = "still in the box"


@dataclass(frozen=True)
class Pull:
    """One thing to fetch; `place`, `expiry` and `quantity` are "" where unknown."""

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
    names = [step["id"] for _, step in steps_of(plan) if step["do"] == "task"]
    off = [step["id"] for _, step in steps_of(plan) if step["do"] == "remove"]
    tasks = list(
        Task.objects.filter(code__in=names).prefetch_related(
            "needs__line__order", "needs__line__component", "fallbacks", "stages"
        )
    )
    parts = {
        part.code: part
        for part in Component.objects.filter(build=plan.build).prefetch_related(
            "fastenings"
        )
    }
    known = [facts.task_by_id[name] for name in names if name in facts.task_by_id]
    lacking = wants(facts)
    pulls = [
        *(pull for task in tasks for pull in _needed(task, facts, lacking)),
        *(pull for task in known for pull in _fitted(task, parts, tasks)),
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
            "plan": plan,
            # In walking order; what has no place yet comes last.
            "pulls": sorted(pulls, key=lambda p: (not p.place, p.place, p.code)),
            "absent": _absent(known, facts, lacking),
            "disturbed": disturbed(parts[name] for name in off if name in parts),
            "tools": sorted(_tools(tasks)),
            "protection": protection_for(known),
        },
    )


def _needed(
    task: Task, facts: Facts, lacking: dict[str, tuple[Want, ...]]
) -> Iterator[Pull]:
    wanted = {want.line: want for want in lacking.get(task.code, ())}
    for need in task.needs.all():
        if need.kind == words.NeedKind.TOOL:
            continue
        if need.line is None:
            yield Pull(
                place=RACK,
                code=need.rack_code,
                what=need.note,
                task=task.code,
                quantity=show_quantity(need.quantity_milli, words.Unit.PIECE)
                if need.quantity_milli
                else "",
                can_expire=True,
            )
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
