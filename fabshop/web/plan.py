"""Teardowns: what is planned, asking for one, and the page of a plan."""

from __future__ import annotations

from typing import Any, Literal, cast

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST, require_safe

from fabshop import clock, words
from fabshop.actions.plan import (
    accept_plan,
    add_task_to_plan,
    ask_teardown,
    plan_change,
)
from fabshop.errors import ShopError
from fabshop.reckoning.batching import default_tasks, teardown_batch
from fabshop.reckoning.hours import factors_of, minutes_left
from fabshop.records.build import Build
from fabshop.records.plan import Plan
from fabshop.records.task import Task
from fabshop.snapshot import take, wall_of
from fabshop.web.gate import for_owner, for_writers, signed_in
from fabshop.web.plan_page import plan_context, start_by
from fabshop.web.respond import Context, refused, respond
from fabshop.web.tap import said
from fabshop.web.typed import Typed

DATES = (("likely", "Likely days"), ("late", "Late days"))
WAITS = (("all", "Wait for all parcels"), ("each", "Begin before the last"))
AIMS = (("late_start", "Start late"), ("early_finish", "Finish early"))
SESSIONS = (("1", "Once"), ("2", "Twice"), ("3", "Three times"))


@signed_in
@require_safe
def plan_list(request: HttpRequest) -> HttpResponse:
    accepted = {
        plan.build_id: plan for plan in Plan.objects.accepted().defer("question")
    }
    asked: dict[int, Plan] = {}
    proposals = Plan.objects.filter(state=words.PlanState.PROPOSED)
    for plan in proposals.only("build_id", "made_at").order_by("made_at"):
        asked[plan.build_id] = plan
    rows = [
        _listed(build, accepted.get(build.pk), asked.get(build.pk))
        for build in Build.objects.live()
    ]
    first = next((row for row in rows if row["accepted"]), None)
    context = {"now": clock.now(), "rows": rows, "first": first}
    return respond(request, "plan/list.html", "", context)


def _listed(build: Build, accepted: Plan | None, asked: Plan | None) -> Context:
    is_newer = asked and not (accepted and accepted.made_at > asked.made_at)
    return {
        "build": build,
        "accepted": accepted,
        "start_by": start_by(accepted.answer, wall_of(accepted)) if accepted else "",
        "proposed": asked if is_newer else None,
    }


@for_writers
def plan_ask(request: HttpRequest, slug: str) -> HttpResponse:
    """Choose what goes into the teardown and how it is to be reckoned."""
    build = get_object_or_404(Build, slug=slug)
    context = _asking(build)
    if request.method != "POST":
        return respond(request, "plan/ask.html", "", context)
    try:
        form = Typed(request)
        begin = form.moment("begin", "Not before")
        form.refuse_if_wrong()
        asked = ask_teardown(
            build=build,
            tasks=form.codes("tasks"),
            dates=cast(Literal["likely", "late"], _one_of(form, "dates", DATES)),
            wait_for=cast(Literal["all", "each"], _one_of(form, "wait_for", WAITS)),
            max_sessions=int(_one_of(form, "max_sessions", SESSIONS)),
            prefer=cast(
                Literal["late_start", "early_finish"], _one_of(form, "prefer", AIMS)
            ),
            begin=begin,
            **said(request),
        )
    except ShopError as error:
        return refused(request, error, "plan/ask.html", "", context)
    return redirect("plan", asked.pk)


@signed_in
@require_safe
def plan(request: HttpRequest, pk: int) -> HttpResponse:
    found = get_object_or_404(Plan.objects.select_related("build"), pk=pk)
    return respond(request, "plan/detail.html", "plan/_steps.html", plan_context(found))


@require_POST
@for_owner
def plan_accept(request: HttpRequest, pk: int) -> HttpResponse:
    found = get_object_or_404(Plan, pk=pk)
    accepted = accept_plan(plan=found, **said(request))
    messages.info(request, f"Edition {accepted.edition} is the plan. Print its sheet.")
    return redirect("plan", pk)


@require_POST
@for_writers
def plan_add(request: HttpRequest, pk: int) -> HttpResponse:
    """Another task into this teardown: it is reckoned again, as a new proposal."""
    found = get_object_or_404(Plan.objects.select_related("build"), pk=pk)
    task = get_object_or_404(Task, code=request.POST.get("task", ""))
    fresh = add_task_to_plan(plan=found, task=task, **said(request))
    return redirect("plan", fresh.pk)


@signed_in
@require_safe
def plan_changed(request: HttpRequest, pk: int) -> HttpResponse:
    """What the shop's changes since do to the plan: it is reckoned again to compare."""
    found = get_object_or_404(Plan.objects.select_related("build"), pk=pk)
    change = plan_change(plan=found, now=clock.now(), look_into=True)
    context = {"now": clock.now(), "plan": found, "change": change}
    return respond(request, "plan/changed.html", "plan/_changed.html", context)


def _asking(build: Build) -> Context:
    facts = take(clock.now())
    chosen = set(default_tasks(facts, build.slug))
    batch = teardown_batch(facts, build.slug)
    factors = factors_of(facts)

    def told(name: str) -> dict[str, Any]:
        task = facts.task_by_id[name]
        return {
            "code": name,
            "title": task.title,
            "minutes": minutes_left(task, factors),
            "is_hold": task.is_hold,
        }

    return {
        "now": clock.now(),
        "build": build,
        "planned": [told(name) for name in sorted(chosen)],
        "offered": [told(name) for name in batch.offered],
        "gates": [
            {
                "line": gate.line,
                "title": facts.line_by_id[gate.line].title,
                "task": gate.task,
                "likely": gate.likely_at,
                "late": gate.late_at,
                "in_hand": gate.in_hand,
            }
            for gate in batch.gates
        ],
        "unknown": batch.unknown_minutes,
        "dates": DATES,
        "waits": WAITS,
        "aims": AIMS,
        "sessions": SESSIONS,
    }


def _one_of(form: Typed, name: str, options: tuple[tuple[str, str], ...]) -> str:
    seen = form.raw(name)
    known = [value for value, _ in options]
    return seen if seen in known else known[0]
