"""The pull list of a teardown: everything to have at the bench before it begins."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.shortcuts import get_object_or_404

from fabshop import words
from fabshop.clock import now
from fabshop.paper.plan import code_of, disturbed
from fabshop.paper.sheet import Sheet
from fabshop.reckoning.arrivals import Arrival, arrivals
from fabshop.reckoning.facts import Facts, NeedFact, TaskFact
from fabshop.records.plan import Plan
from fabshop.snapshot import take
from fabshop.units import show_moment, show_quantity

NO_PLACE = "place not noted"
NOT_KEPT = "unknown"


@dataclass
class Pull:
    """One thing to fetch, ready to print; `short` is "" where enough is in hand."""

    place: str
    what: str
    quantity: str
    hand: str = ""
    state: str = ""
    expiry: str = ""
    short: str = ""
    substitute: str = ""
    task: str = ""


def pull_list(pk: int) -> Sheet:
    """Everything that the plan's tasks need, by place, and what is not in hand."""
    plan = get_object_or_404(Plan.objects.select_related("build"), pk=pk)
    facts = take(now())
    coming = arrivals(facts)
    codes = [step["id"] for step in _steps(plan) if step["do"] == "task"]
    tasks = [facts.task_by_id[code] for code in codes if code in facts.task_by_id]
    pulls = [
        _pull(task, need, facts, coming)
        for task in tasks
        for need in task.needs
        if need.kind is not words.NeedKind.TOOL
    ]
    pulls += [_fitted(task, name, facts) for task in tasks for name in task.fits]
    off = [
        facts.component_by_id[step["id"]]
        for step in _steps(plan)
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
            "plan": plan,
            "pulls": sorted(pulls, key=lambda pull: (pull.place, pull.what)),
            "absent": _absent(tasks, facts, coming),
            "disturbed": disturbed(off),
            "tools": sorted(
                {
                    need.name
                    for task in tasks
                    for need in task.needs
                    if need.kind is words.NeedKind.TOOL
                }
            ),
        },
    )


def _steps(plan: Plan) -> list[dict[str, Any]]:
    return [s for session in plan.answer.get("sessions", []) for s in session["steps"]]


def _pull(
    task: TaskFact, need: NeedFact, facts: Facts, coming: dict[str, Arrival]
) -> Pull:
    line = facts.line_by_id.get(need.name)
    if line is None:
        return Pull(
            place=NO_PLACE,
            what=need.name,
            quantity=str(need.quantity_milli / 1000) if need.quantity_milli else "",
            expiry=NOT_KEPT,
            task=task.id,
        )
    wanted = need.quantity_milli or line.quantity_milli
    missing = max(0, wanted - line.accepted_milli) if line.id in coming else 0
    plans_b = "; ".join(fallback.title for fallback in task.fallbacks)
    return Pull(
        place="still in the box" if line.in_the_box else NO_PLACE,
        what=f"{line.title} ({line.id})",
        quantity=show_quantity(wanted, line.unit),
        hand=line.hand.label if line.hand else "",
        short=show_quantity(missing, line.unit) if missing else "",
        substitute=plans_b if missing else "",
        task=task.id,
    )


def _fitted(task: TaskFact, name: str, facts: Facts) -> Pull:
    part = facts.component_by_id.get(name)
    if part is None:
        return Pull(place=NO_PLACE, what=name, quantity="1", task=task.id)
    return Pull(
        place=NO_PLACE,
        what=f"{part.id} {part.name}",
        quantity="1",
        hand=part.side.label if part.side else "",
        state="final",
        task=task.id,
    )


def _absent(
    tasks: list[TaskFact], facts: Facts, coming: dict[str, Arrival]
) -> list[dict[str, str]]:
    """What is not in hand, with when it comes and whose move it is."""
    found: dict[str, dict[str, str]] = {}
    for task in tasks:
        for need in task.needs:
            arrival = coming.get(need.name)
            if arrival is None:
                continue
            line, order = facts.line_by_id[need.name], facts.order_by_id[arrival.order]
            found[need.name] = {
                "line": need.name,
                "title": line.title,
                "task": task.id,
                "likely": show_moment(arrival.likely_at)
                if arrival.likely_at
                else "nobody knows",
                "late": show_moment(arrival.late_at) if arrival.late_at else "",
                "move": order.move.label,
                "firm": order.supplier,
            }
    return list(found.values())
