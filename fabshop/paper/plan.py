"""The teardown and rebuild sheet: what comes off, what is done, what goes back."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from django.shortcuts import get_object_or_404

from fabshop import words
from fabshop.clock import now
from fabshop.paper.caution import cautions_for
from fabshop.paper.plan_row import OFF, ON, Lines, sessions_of, steps_of
from fabshop.paper.sheet import Sheet, said
from fabshop.paper.waived import waived_holds
from fabshop.reckoning.arrivals import arrivals, last_delivery
from fabshop.reckoning.batching import in_hand_minutes
from fabshop.reckoning.facts import Facts
from fabshop.records.build import Component
from fabshop.records.plan import Plan
from fabshop.records.shelf import ShelfWaiver
from fabshop.snapshot import Wall, take, wall_of
from fabshop.units import show_day, show_minutes


@dataclass(frozen=True)
class Disturbed:
    """What the removals free. `new` counts the nuts and ties that are used once."""

    total: int
    sizes: list[tuple[str, int]]
    lockers: list[tuple[str, int]]
    besides: list[str]
    new: list[tuple[str, int]]


@dataclass(frozen=True)
class Gate:
    """A line that the teardown waits for, with the tasks it is for."""

    line: str
    title: str
    in_hand: bool
    likely: str
    late: str
    tasks: list[str]
    plan_b: str
    decide_by: str


def teardown_sheet(pk: int) -> Sheet:
    """The sheet of one plan, with the steps and the times of that plan alone."""
    plan = get_object_or_404(Plan.objects.select_related("build"), pk=pk)
    facts = take(now())
    lines = Lines(plan, facts)
    rows = list(lines.rows())
    gates = gates_of(plan, facts)
    off = [lines.parts[row.code] for row in rows if row.letter == OFF]
    return Sheet(
        name="teardown",
        title="Teardown and rebuild",
        template="paper/plan/teardown.html",
        path=f"/plans/{plan.pk}/",
        code=code_of(plan),
        filename=f"{plan.build.slug}-teardown",
        subject=plan.build.name,
        made_at=plan.made_at,
        offset_minutes=plan.utc_offset_minutes,
        edition=plan.edition,
        digest=plan.digest,
        entries=plan.entries,
        context={
            "plan": plan,
            "sessions": sessions_of(rows),
            **_times(plan, lines.wall),
            "gates": [gate for gate in gates if not gate.in_hand],
            "in_the_shop": [gate for gate in gates if gate.in_hand],
            "totals": _totals(plan),
            "left_out": plan.answer.get("left_out", []),
            "before": _before(plan, facts),
            "not_waited_for": [
                wait["on"] for wait in plan.asked.get("waits", ()) if not wait["binds"]
            ],
            "unknown": plan.asked.get("unknown_minutes", []),
            "is_unproven": plan.answer.get("status") == "feasible",
            "plug_step": next((row.number for row in rows if row.bares_plug), None),
            "cautions": cautions_for(
                [
                    facts.task_by_id[name]
                    for name in lines.tasks
                    if name in facts.task_by_id
                ]
            ),
            "disturbed": disturbed(off),
            "overruled": _overruled(list(lines.tasks)),
            "waived": waived_holds(plan.build_id, plan.utc_offset_minutes),
            "torque": [row for row in rows if row.letter == ON and row.wants_bag],
            "off": [row.code for row in rows if row.letter == OFF],
        },
    )


def _overruled(tasks: list[str]) -> list[str]:
    """What the plan's tasks use although it has gone off, and why they may."""
    waivers = ShelfWaiver.objects.filter(task__code__in=tasks, is_taken_back=False)
    return [
        f"{waiver.task.code} uses {waiver.consumable}, gone off "
        f"{show_day(waiver.last_good_on)}: {waiver.reason} ({waiver.person.name})"
        for waiver in waivers.select_related("task", "consumable", "person")
    ]


def code_of(plan: Plan) -> str:
    """What is read aloud or typed where no camera works: TUPPENCE A."""
    return f"{plan.build.slug.upper()} {plan.edition or 'proposed'}"


def disturbed(parts: Iterable[Component]) -> Disturbed:
    """Count the screws that these parts free by thread, locker and use."""
    sizes: Counter[str] = Counter()
    lockers: Counter[str] = Counter()
    new: Counter[str] = Counter()
    besides = []
    for part in parts:
        for fastening in part.fastenings.all():
            if fastening.is_single_use:
                new[_thread(fastening.size)] += fastening.count
            if not fastening.is_screw:
                besides.append(f"{part.code} {fastening.count} {fastening.size}")
                continue
            sizes[_thread(fastening.size)] += fastening.count
            lockers[words.Locker(fastening.locker).label] += fastening.count
    return Disturbed(
        total=sum(sizes.values()),
        sizes=sizes.most_common(),
        lockers=lockers.most_common(),
        besides=besides,
        new=new.most_common(),
    )


def gates_of(plan: Plan, facts: Facts) -> list[Gate]:
    """Each line once; where it has a Plan B, the last delivery that still helps."""
    owed = arrivals(facts)
    wall = wall_of(plan)
    found: dict[str, list[dict[str, Any]]] = {}
    for gate in plan.asked.get("gates", ()):
        found.setdefault(gate["line"], []).append(gate)
    gates = []
    for line, gated in sorted(found.items()):
        fact = facts.line_by_id.get(line)
        in_hand = gated[0]["in_hand"] or line not in owed
        tasks = list(dict.fromkeys(gate["task"] for gate in gated))
        wanted = dict.fromkeys(gate.get("through") or gate["task"] for gate in gated)
        plans_b = [
            fallback.title
            for name in wanted
            if name in facts.task_by_id
            for fallback in facts.task_by_id[name].fallbacks
        ]
        gates.append(
            Gate(
                line=line,
                title=fact.title if fact else "",
                in_hand=in_hand,
                likely=wall.say(gated[0]["likely_at"]),
                late=wall.say(gated[0]["late_at"]),
                tasks=tasks,
                plan_b="" if in_hand else "; ".join(plans_b),
                decide_by=_last_delivery(plan, tasks, facts, wall),
            )
        )
    return gates


def _last_delivery(plan: Plan, tasks: list[str], facts: Facts, wall: Wall) -> str:
    """The last delivery before the plan's work on `tasks` must have begun."""
    sessions = plan.answer.get("sessions", ())
    for session in sessions:
        starts = {step["id"]: step["start"] for step in session["steps"]}
        mine = [starts[name] for name in tasks if name in starts]
        if not mine:
            continue
        waits_for_all = plan.asked.get("wait_for") == "all"
        start = session["latest_start"] if waits_for_all else min(mine)
        here_at = last_delivery(facts, datetime.fromisoformat(start))
        return wall.say(here_at.isoformat()) if here_at else ""
    return ""


def _before(plan: Plan, facts: Facts) -> list[dict[str, str]]:
    """What must be done outside the teardown, with the tasks that wait for it."""
    found: dict[str, dict[str, Any]] = {}
    for wait in plan.asked.get("waits", ()):
        if not wait["binds"]:
            continue
        task = facts.task_by_id.get(wait["on"])
        row = found.setdefault(
            wait["on"], {"title": task.title if task else "", "tasks": []}
        )
        row["tasks"].append(wait["task"])
    return [{"task": name, **row} for name, row in sorted(found.items())]


def _times(plan: Plan, wall: Wall) -> dict[str, Any]:
    answer, late = plan.answer, plan.late_answer or {}
    sessions = answer.get("sessions", [])
    left_out = {row["task"] for row in answer.get("left_out", ())}
    closes = plan.build.pack_out_at
    return {
        "start_by": _start_by(answer, wall),
        "start_by_late": _start_by(late, wall),
        "late_left_out": [
            row["task"]
            for row in late.get("left_out", ())
            if row["task"] not in left_out
        ],
        "begins": wall.say(sessions[0]["start"]) if sessions else "",
        "ends": wall.say(sessions[-1]["finish"]) if sessions else "",
        "pack_out": said(closes, plan.utc_offset_minutes) if closes else "",
        "in_hand": _in_hand(answer),
    }


def _in_hand(answer: dict[str, Any]) -> str:
    minutes = in_hand_minutes(answer)
    return "" if minutes is None else show_minutes(minutes)


def _totals(plan: Plan) -> dict[str, str]:
    minutes: Counter[str] = Counter()
    cures = timedelta()
    for _, step in steps_of(plan):
        minutes[step["do"]] += step["minutes"]
        if step.get("cured"):
            cures += datetime.fromisoformat(step["cured"]) - datetime.fromisoformat(
                step["finish"]
            )
    return {
        "off": show_minutes(minutes["remove"]),
        "work": show_minutes(minutes["task"]),
        "on": show_minutes(minutes["refit"]),
        "cure": show_minutes(cures // timedelta(minutes=1)),
    }


def _start_by(answer: dict[str, Any], wall: Wall) -> str:
    sessions = answer.get("sessions")
    return wall.say(sessions[0]["latest_start"]) if sessions else ""


def _thread(size: str) -> str:
    return size.split("×")[0].split(" ")[0]
