"""What the page of a plan shows: the answer, how far it is, and what must wait."""

from __future__ import annotations

from collections import defaultdict
from datetime import datetime
from typing import Any

from fabshop import clock, words
from fabshop.actions.plan import is_done, plan_change
from fabshop.reckoning.arrivals import arrivals, last_delivery
from fabshop.reckoning.batching import destroyed, in_hand_minutes
from fabshop.reckoning.closing import shut_for_good
from fabshop.reckoning.facts import Facts, TaskFact
from fabshop.reckoning.readiness import kept_open, readiness
from fabshop.reckoning.readiness.hold import binds
from fabshop.records.build import Component
from fabshop.records.plan import Plan
from fabshop.records.task import Task
from fabshop.snapshot import Wall, take, wall_of
from fabshop.units import show_day, show_minutes, show_moment
from fabshop.web.respond import Context
from fabshop.web.shelf import hardware_of


def plan_context(plan: Plan) -> Context:
    """Everything that the page of a plan shows, its steps with their ticks."""
    now = clock.now()
    facts = take(now)
    answer, late = plan.answer, plan.late_answer
    sessions = answer.get("sessions", [])
    wall = wall_of(plan)
    rows = _rows(plan, facts, wall)
    is_accepted = plan.state == words.PlanState.ACCEPTED
    return {
        "now": now,
        "plan": plan,
        "answer": answer,
        "state": words.PlanState(plan.state),
        "is_accepted": is_accepted,
        "start_by": start_by(answer, wall),
        "start_by_late": start_by(late, wall),
        "late_left_out": _late_left_out(late, answer),
        "any_order": _any_order(answer, wall),
        "in_hand": _in_hand(answer),
        "begins": wall.say(sessions[0]["start"]) if sessions else "",
        "ends": wall.say(sessions[-1]["finish"]) if sessions else "",
        "choices": [_choice(choice, wall) for choice in answer.get("choices", ())],
        "gates": _gates(plan, facts, wall),
        "before": _before(plan, facts, wall),
        "destroyed": destroyed(facts, answer) if sessions else (),
        "found": hardware_of(facts, plan) if sessions else None,
        "rows": rows,
        "next": next((row for row in rows if not row["done"]), None),
        "done_count": sum(row["done"] for row in rows),
        "can_do": _can_do(rows, facts) if is_accepted else (),
        "curing": _curing(rows, facts) if is_accepted else (),
        "change": plan_change(plan=plan, now=now, facts=facts),
        "current": Plan.objects.accepted()
        .filter(build=plan.build, kind=plan.kind)
        .first(),
        "could_add": [
            facts.task_by_id[name]
            for name in plan.asked.get("offered", ())
            if name in facts.task_by_id and not facts.task_by_id[name].is_finished
        ],
    }


def start_by(answer: dict[str, Any] | None, wall: Wall) -> str:
    """The last moment to start the very steps of this answer."""
    if not answer or not answer.get("sessions"):
        return ""
    return wall.say(answer["sessions"][0]["latest_start"])


def _rows(plan: Plan, facts: Facts, wall: Wall) -> list[dict[str, Any]]:
    ticked = _ticked(plan)
    names = _names(plan)
    rows: list[dict[str, Any]] = []
    day = None
    for session, told in enumerate(plan.answer.get("sessions", ()), start=1):
        for step in told["steps"]:
            start = wall.at(step["start"])
            is_new = not rows or rows[-1]["session"] != session
            rows.append(
                {
                    "number": len(rows) + 1,
                    "session": session,
                    "is_new_session": is_new,
                    "does": words.StepDo(step["do"]),
                    "code": step["id"],
                    "name": names.get((step["do"] == "task", step["id"]), ""),
                    "minutes": step["minutes"],
                    "start": f"{start:%H:%M}",
                    "day": show_day(start) if is_new or start.date() != day else "",
                    "done": ticked.get(len(rows) + 1, False),
                    **_warnings(step, facts, wall),
                }
            )
            day = start.date()
    return rows


def _names(plan: Plan) -> dict[tuple[bool, str], str]:
    """What the steps are called: (is it a task, code) -> name, of closed builds too."""
    codes = {
        step["id"]
        for session in plan.answer.get("sessions", ())
        for step in session["steps"]
    }
    tasks = Task.objects.filter(code__in=codes).values_list("code", "title")
    parts = Component.objects.filter(code__in=codes).values_list("code", "name")
    return {
        **{(True, code): title for code, title in tasks},
        **{(False, code): name for code, name in parts},
    }


def _warnings(step: dict[str, Any], facts: Facts, wall: Wall) -> dict[str, Any]:
    """What a step forbids until it is done, or for ever."""
    quiet = {"bar": "", "never_again": (), "cured": "", "battery": False}
    if step["do"] != "task":
        part = facts.component_by_id.get(step["id"])
        bares = bool(part and part.bares_battery_plug and step["do"] == "remove")
        return {**quiet, "battery": bares}
    task = facts.task_by_id.get(step["id"])
    if task is None:
        return quiet
    finish, cured = step["finish"], step.get("cured") or step["finish"]
    return {
        **quiet,
        "cured": wall.say(cured) if cured != finish else "",
        "bar": bar_over(task, facts, wall.say(cured) if cured != finish else ""),
        "never_again": shut_for_good(task.fits, facts.components)
        if task.for_good
        else (),
    }


def bar_over(task: TaskFact, facts: Facts, cured: str) -> str:
    """What may not go back on yet, in one sentence; "" where nothing is kept open."""
    kept = " ".join(kept_open(task, facts))
    if task.is_hold:
        if not binds(task):
            return f"Hold {task.id} is passed."
        return f"Hold: do not close {kept} until {task.id} is signed." if kept else ""
    if not kept or task.is_finished and not task.cured_at:
        return ""
    return f"Do not close {kept} before {cured or f'{task.id} is done'}."


def _ticked(plan: Plan) -> dict[int, bool]:
    steps = plan.steps.select_related("task", "component").prefetch_related("ticks")
    return {step.number: is_done(step) for step in steps}


def _can_do(rows: list[dict[str, Any]], facts: Facts) -> list[str]:
    """The plan's tasks that nothing is in the way of, as the machine stands now."""
    stands = readiness(facts)
    open_now = (words.Why.READY, words.Why.OUT_OF_HOURS, words.Why.UNDER_WAY)
    return [
        row["code"]
        for row in rows
        if row["does"] == words.StepDo.TASK
        and not row["done"]
        and row["code"] in stands
        and stands[row["code"]].why in open_now
    ]


def _curing(rows: list[dict[str, Any]], facts: Facts) -> list[str]:
    codes = {row["code"] for row in rows if row["does"] == words.StepDo.TASK}
    return [
        f"{task.id} cures until {show_moment(task.cured_at)}"
        for task in facts.tasks
        if task.id in codes and task.cured_at and task.cured_at > facts.now
    ]


def _gates(plan: Plan, facts: Facts, wall: Wall) -> list[dict[str, Any]]:
    """The lines the plan waits for, as they stand now, and by when to take a Plan B."""
    owed = arrivals(facts)
    gated: dict[str, list[dict[str, Any]]] = defaultdict(list)
    for gate in plan.asked.get("gates", ()):
        gated[gate["line"]].append(gate)
    found = []
    for name, gates in sorted(gated.items()):
        line = facts.line_by_id.get(name)
        tasks = list(dict.fromkeys(gate["task"] for gate in gates))
        wanting = dict.fromkeys(gate.get("through") or gate["task"] for gate in gates)
        here = name not in owed
        found.append(
            {
                "line": name,
                "title": line.title if line else "",
                "in_hand": here,
                "likely": wall.say(gates[0]["likely_at"]),
                "late": wall.say(gates[0]["late_at"]),
                "tasks": tasks,
                "plan_b": [
                    f"{task}: {fallback.title}"
                    for task in wanting
                    if task in facts.task_by_id and not here
                    for fallback in facts.task_by_id[task].fallbacks
                ],
                "decide_by": "" if here else _decide_by(plan, tasks, facts, wall),
            }
        )
    return found


def _decide_by(plan: Plan, tasks: list[str], facts: Facts, wall: Wall) -> str:
    """The last delivery before the plan's own work on these tasks must begin."""
    for session in plan.answer.get("sessions", ()):
        starts = [s["start"] for s in session["steps"] if s["id"] in tasks]
        if starts:
            waits_for_all = plan.asked.get("wait_for") == "all"
            must = session["latest_start"] if waits_for_all else min(starts)
            here_at = last_delivery(facts, datetime.fromisoformat(must))
            return wall.say(here_at.isoformat()) if here_at else ""
    return ""


def _before(plan: Plan, facts: Facts, wall: Wall) -> list[dict[str, Any]]:
    """The tasks outside the teardown that its own come after, those done left out."""
    found: dict[str, dict[str, Any]] = {}
    for wait in plan.asked.get("waits", ()):
        task = facts.task_by_id.get(wait["on"])
        if task is None or task.is_finished:
            continue
        row = found.setdefault(
            task.id,
            {
                "task": task,
                "for": [],
                "binds": wait["binds"],
                "done_at": wall.say(wait["done_at"]),
            },
        )
        row["for"].append(wait["task"])
    return [found[name] for name in sorted(found)]


def _choice(choice: dict[str, Any], wall: Wall) -> dict[str, Any]:
    in_hand = choice.get("in_hand_minutes")
    return {
        **choice,
        "finish": wall.say(choice.get("finish")),
        "in_hand": None if in_hand is None else show_minutes(in_hand),
    }


def _in_hand(answer: dict[str, Any]) -> str:
    minutes = in_hand_minutes(answer)
    return "" if minutes is None else show_minutes(minutes)


def _any_order(answer: dict[str, Any], wall: Wall) -> str:
    """The latest start in any order, where that is later than these very steps'."""
    if not answer.get("sessions"):
        return ""
    first = answer["sessions"][0]
    any_order = first.get("latest_start_any_order")
    if not any_order or any_order == first["latest_start"]:
        return ""
    return wall.say(any_order)


def _late_left_out(late: dict[str, Any] | None, answer: dict[str, Any]) -> list[str]:
    """What only the late days leave out."""
    already = {row["task"] for row in answer.get("left_out", ())}
    left_out = [row["task"] for row in (late or {}).get("left_out", ())]
    return [task for task in left_out if task not in already]
