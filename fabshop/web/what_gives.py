"""What gives: final, Plan B or given up, for each goal, and what each costs."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Any, cast

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST, require_safe

from fabshop import clock
from fabshop.actions.schedule import choose_goal, pieces
from fabshop.errors import BadInput
from fabshop.reckoning.facts import Facts
from fabshop.reckoning.planning.goals import Stand, stands
from fabshop.reckoning.triage import Clash, promised_twice, shown
from fabshop.records.build import Build
from fabshop.records.task import Task
from fabshop.snapshot import take_whole
from fabshop.snapshot.kept_plan import KeptPlan, kept_plan
from fabshop.units import show_minutes, show_moment
from fabshop.web.gate import for_owner, signed_in
from fabshop.web.respond import respond
from fabshop.web.tap import tap

CHOICES = ("must", "plan-b", "give-up", "again", "free")


@dataclass(frozen=True)
class GoalRow:
    """One goal as its row shows it."""

    stand: Stand
    says: tuple[str, ...]
    switch: str


@signed_in
@require_safe
def what_gives(request: HttpRequest) -> HttpResponse:
    at = clock.now()
    facts = take_whole(at)
    kept = kept_plan(facts)
    rows = goal_rows(facts, kept)
    context = {
        "now": at,
        "kept": kept,
        "rows": rows,
        "lead": _lead(rows, kept),
        "clashes": [_clash_words(one) for one in clashes(facts)],
        "short": _short(facts, kept),
        "given_up": Task.objects.filter(
            state="given-up", build__in=Build.objects.live()
        )
        .exclude(points=0, fallbacks=None)
        .distinct(),
    }
    return respond(request, "schedule/what_gives.html", "", context)


@signed_in
@require_safe
def goal(request: HttpRequest, code: str) -> HttpResponse:
    """One goal: its ways, what each brings and until when it can be had."""
    at = clock.now()
    facts = take_whole(at)
    kept = kept_plan(facts)
    task = get_object_or_404(Task, code=code)
    row = next((r for r in goal_rows(facts, kept) if r.stand.worth.task == code), None)
    context: dict[str, Any] = {"now": at, "task": task, "row": row, "kept": kept}
    if row is not None:
        worth = row.stand.worth
        context |= {
            "chain": [facts.task_by_id[name] for name in worth.chain],
            "minutes": worth.minutes,
            "switches": [
                (one, _switch_words(one.last_at, one.is_too_late), _rate(row, n))
                for n, one in enumerate(row.stand.switches)
            ],
            "rate": shown(worth.per_hour) if worth.per_hour is not None else "",
            "clashes": [_clash_words(c) for c in clashes(facts) if code in c.tasks],
        }
    return respond(request, "schedule/goal.html", "", context)


@require_POST
@for_owner
def goal_choose(request: HttpRequest, code: str) -> HttpResponse:
    """Final, Plan B, given up, or must have it; the plan changes at once."""
    task = get_object_or_404(Task, code=code)
    choice, _, pk = request.POST.get("choice", "").partition(":")
    if choice not in CHOICES:
        raise BadInput(
            f"{choice or 'Nothing'}: choose one of the keys.", field="choice"
        )
    fallback = None
    if choice == "plan-b":
        known = pk.isdecimal() and len(pk) < 10
        fallback = task.fallbacks.filter(pk=int(pk) if known else 0).first()
    chosen = choose_goal(
        task=task,
        choice=cast(Any, choice),
        fallback=fallback,
        confirm=bool(request.POST.get("confirm")),
        **tap(request),
    )
    change = chosen.plan.change if chosen.plan else ""
    messages.success(request, f"{code} {chosen.told}. {change}".strip())
    for line in chosen.breaks:
        messages.warning(request, f"{line}.".replace("..", "."))
    return redirect("what-gives")


def goal_rows(facts: Facts, kept: KeptPlan | None) -> list[GoalRow]:
    found = []
    for stand in stands(facts, kept.story if kept else None):
        worth = stand.worth
        says = []
        if stand.why:
            says.append(stand.why)
        elif worth.per_hour is not None and worth.points:
            says.append(
                f"{worth.points} points for {show_minutes(worth.minutes)}, "
                f"{shown(worth.per_hour)} an hour"
            )
        if stand.cannot_be_had:
            says.append("the hours do not hold it with every must")
        elif stand.price:
            says.append(f"having it costs {stand.price} points elsewhere")
        switch = ""
        if stand.switches and not stand.is_plan_b:
            first = next((s for s in stand.switches if not s.is_too_late), None)
            switch = (
                f"Plan B until {show_moment(first.last_at)}"
                if first and first.last_at
                else "Plan B no longer possible"
            )
        found.append(GoalRow(stand, tuple(says), switch))
    return found


def clashes(facts: Facts, *, chosen_only: bool = False) -> tuple[Clash, ...]:
    return promised_twice(facts, pieces(), chosen_only=chosen_only)


def _clash_words(one: Clash) -> str:
    there = "one piece" if one.pieces == 1 else f"{one.pieces} pieces"
    return f"{one.spare} is promised to {' and '.join(one.tasks)}: there is {there}."


def _short(facts: Facts, kept: KeptPlan | None) -> list[str]:
    """What all that is wanted would use up, against what there is."""
    if kept is None:
        return []
    return list(kept.story.beside.get("short", ()))


def _lead(rows: list[GoalRow], kept: KeptPlan | None) -> str:
    if not rows:
        return "No task has points or a Plan B."
    if kept is None:
        return "No plan is made yet: make it first, and it says what gives."
    story = kept.story
    finals = sum(row.stand.is_final for row in rows)
    plan_bs = sum(row.stand.is_plan_b for row in rows)
    out = len(rows) - finals - plan_bs
    return (
        f"{story.points} of {story.most_points} points: {finals} final, {plan_bs} by "
        f"Plan B, {out} given up."
    )


def _switch_words(last_at: datetime | None, is_too_late: bool) -> str:
    if is_too_late:
        return "no longer possible"
    return f"possible until {show_moment(last_at)}" if last_at else "possible"


def _rate(row: GoalRow, number: int) -> str:
    plan_b = row.stand.worth.plans_b[number]
    if plan_b.costs_more:
        return "it takes as long or longer for no more points"
    if plan_b.more_per_hour is None:
        return ""
    return f"the final way brings {shown(plan_b.more_per_hour)} points for an hour more"
