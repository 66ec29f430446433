"""Teardowns: what is planned, asking for one, and the page of a plan."""

from __future__ import annotations

from datetime import datetime
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
from fabshop.reckoning.batching import default_tasks, destroyed, teardown_batch
from fabshop.reckoning.closing import shut_for_good
from fabshop.reckoning.facts import Facts
from fabshop.reckoning.hours import factors_of, minutes_left
from fabshop.reckoning.readiness import kept_open
from fabshop.records.build import Build
from fabshop.records.plan import Plan
from fabshop.records.task import Task
from fabshop.snapshot import take
from fabshop.units import show_minutes, show_moment
from fabshop.web.gate import for_owner, for_writers, signed_in
from fabshop.web.respond import Context, refused, respond
from fabshop.web.tap import said
from fabshop.web.typed import Typed

DATES = (("likely", "Likely days"), ("late", "Late days"))
WAITS = (("all", "Wait for all parcels"), ("each", "Begin before the last"))
AIMS = (("late_start", "Start as late as can be"), ("early_finish", "Finish first"))
SESSIONS = (("1", "Once"), ("2", "Twice"), ("3", "Three times"))


@signed_in
@require_safe
def plan_list(request: HttpRequest) -> HttpResponse:
    plans = Plan.objects.select_related("build").defer("question", "late_answer")
    newest: dict[int, dict[str, Plan]] = {}
    for plan in plans.exclude(state=words.PlanState.SUPERSEDED).order_by("made_at"):
        newest.setdefault(plan.build_id, {})[plan.state] = plan
    rows = [
        {
            "build": build,
            "accepted": newest.get(build.pk, {}).get(words.PlanState.ACCEPTED),
            "proposed": newest.get(build.pk, {}).get(words.PlanState.PROPOSED),
        }
        for build in Build.objects.live()
    ]
    for row in rows:
        row["start_by"] = _start_by(row["accepted"] and row["accepted"].answer)
    return respond(request, "plan/list.html", "", {"now": clock.now(), "rows": rows})


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


def plan_context(plan: Plan) -> Context:
    """Everything that the page of a plan shows, its steps with their ticks."""
    facts = take(clock.now())
    answer, late = plan.answer, plan.late_answer
    sessions = answer.get("sessions", [])
    ticked = _ticked(plan)
    rows = _rows(plan, facts, ticked)
    change = plan_change(plan=plan, now=clock.now())
    current = Plan.objects.accepted().filter(build=plan.build, kind=plan.kind).first()
    return {
        "now": clock.now(),
        "plan": plan,
        "answer": answer,
        "state": words.PlanState(plan.state),
        "is_accepted": plan.state == words.PlanState.ACCEPTED,
        "start_by": _start_by(answer),
        "start_by_late": _start_by(late),
        "late_left_out": _names(late, answer),
        "any_order": _any_order(answer),
        "in_hand": _in_hand(answer),
        "begins": _moment(sessions[0]["start"]) if sessions else "",
        "ends": _moment(sessions[-1]["finish"]) if sessions else "",
        "choices": [_choice(choice) for choice in answer.get("choices", ())],
        "gates": _gates(plan, facts),
        "destroyed": destroyed(facts, answer) if sessions else (),
        "rows": rows,
        "next": next((row for row in rows if not row["done"]), None),
        "done_count": sum(row["done"] for row in rows),
        "change": change,
        "current": current,
        "could_add": [
            facts.task_by_id[name]
            for name in plan.asked.get("offered", ())
            if name in facts.task_by_id and not facts.task_by_id[name].is_finished
        ],
    }


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


def _rows(plan: Plan, facts: Facts, ticked: dict[int, bool]) -> list[dict[str, Any]]:
    rows = []
    number = 0
    day = None
    for session, told in enumerate(plan.answer.get("sessions", ()), start=1):
        for step in told["steps"]:
            number += 1
            start = datetime.fromisoformat(step["start"])
            row = {
                "number": number,
                "session": session,
                "does": words.StepDo(step["do"]),
                "code": step["id"],
                "minutes": step["minutes"],
                "start": f"{start:%H:%M}",
                "day": show_moment(start).rsplit(" ", 1)[0]
                if start.date() != day
                else "",
                "cured": _moment(step["cured"]) if step.get("cured") else "",
                "done": ticked.get(number, False),
                "name": _name(step, facts),
                **_warnings(step, facts),
            }
            day = start.date()
            rows.append(row)
    return rows


def _warnings(step: dict[str, Any], facts: Facts) -> dict[str, Any]:
    """What a task of the plan forbids while it is not done, or for ever."""
    task = facts.task_by_id.get(step["id"]) if step["do"] == "task" else None
    if task is None:
        part = facts.component_by_id.get(step["id"])
        return {
            "is_hold": False,
            "keep_open": (),
            "never_again": (),
            "battery": bool(
                part and part.bares_battery_plug and step["do"] == "remove"
            ),
        }
    return {
        "is_hold": task.is_hold,
        "keep_open": kept_open(task, facts),
        "never_again": shut_for_good(task.fits, facts.components)
        if task.for_good
        else (),
        "battery": False,
    }


def _name(step: dict[str, Any], facts: Facts) -> str:
    if step["do"] == "task":
        task = facts.task_by_id.get(step["id"])
        return task.title if task else ""
    part = facts.component_by_id.get(step["id"])
    return part.name if part else ""


def _ticked(plan: Plan) -> dict[int, bool]:
    found: dict[int, bool] = {}
    for step in plan.steps.prefetch_related("ticks"):
        ticks = list(step.ticks.all())
        found[step.number] = bool(ticks) and ticks[-1].is_done
    return found


def _gates(plan: Plan, facts: Facts) -> list[dict[str, Any]]:
    """The lines the plan waits for, as they stand now."""
    found: dict[str, dict[str, Any]] = {}
    for gate in plan.asked.get("gates", ()):
        line = facts.line_by_id.get(gate["line"])
        here = line is None or not line.owed_milli
        row = found.setdefault(
            gate["line"],
            {
                "line": gate["line"],
                "title": line.title if line else "",
                "in_hand": here,
                "likely": _moment(gate["likely_at"]) if gate["likely_at"] else "",
                "late": _moment(gate["late_at"]) if gate["late_at"] else "",
                "tasks": [],
            },
        )
        row["tasks"].append(gate["task"])
    return list(found.values())


def _choice(choice: dict[str, Any]) -> dict[str, Any]:
    in_hand = choice.get("in_hand_minutes")
    return {
        **choice,
        "finish": _moment(choice["finish"]) if choice.get("finish") else "",
        "in_hand": None if in_hand is None else show_minutes(in_hand),
    }


def _in_hand(answer: dict[str, Any]) -> str:
    sessions = len(answer.get("sessions", ()))
    for choice in answer.get("choices", ()):
        if choice["sessions"] >= sessions and choice.get("in_hand_minutes") is not None:
            return show_minutes(choice["in_hand_minutes"])
    return ""


def _start_by(answer: dict[str, Any] | None) -> str:
    if not answer or not answer.get("sessions"):
        return ""
    return _moment(answer["sessions"][0]["latest_start"])


def _any_order(answer: dict[str, Any]) -> str:
    """The latest start in any order, where that is later than these very steps'."""
    if not answer.get("sessions"):
        return ""
    first = answer["sessions"][0]
    any_order = first.get("latest_start_any_order")
    if not any_order or any_order == first["latest_start"]:
        return ""
    return _moment(any_order)


def _names(late: dict[str, Any] | None, answer: dict[str, Any]) -> list[str]:
    """What only the late days leave out."""
    if not late:
        return []
    already = {row["task"] for row in answer.get("left_out", ())}
    return [
        row["task"] for row in late.get("left_out", ()) if row["task"] not in already
    ]


def _moment(written: str) -> str:
    return show_moment(datetime.fromisoformat(written))
