"""The teardown and rebuild sheet: what comes off, what is done, what goes back."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from itertools import groupby
from typing import Any

from django.shortcuts import get_object_or_404

from fabshop import words
from fabshop.clock import now
from fabshop.paper.caution import cautions_for
from fabshop.paper.sheet import Sheet, qr, said
from fabshop.reckoning.closing import shut_for_good
from fabshop.reckoning.facts import ComponentFact, Facts, FasteningFact, TaskFact
from fabshop.reckoning.readiness import kept_open
from fabshop.records.plan import Plan
from fabshop.records.task import Task
from fabshop.snapshot import take
from fabshop.units import show_minutes, show_moment

PARTS = {
    words.StepDo.REMOVE: ("A", "Off"),
    words.StepDo.TASK: ("B", "While it is open"),
    words.StepDo.REFIT: ("C", "On"),
}


@dataclass
class Row:
    """One line of the sheet, every word of it ready to print."""

    number: int
    does: words.StepDo
    code: str
    name: str
    minutes: str
    clock: str
    screws: list[str] = field(default_factory=list)
    watch: str = ""
    state: str = ""
    is_final: bool = False
    battery: bool = False
    zone: str = ""
    parts: list[str] = field(default_factory=list)
    cured: str = ""
    hold: bool = False
    keep_open: list[str] = field(default_factory=list)
    readings: list[str] = field(default_factory=list)
    never_again: list[str] = field(default_factory=list)


@dataclass
class Group:
    """Steps of one kind that follow one another, with the QR of the first."""

    letter: str
    title: str
    session: int
    rows: list[Row]
    path: str

    def qr_on(self, base_url: str) -> str:
        return qr(f"{base_url}{self.path}")


def teardown_sheet(pk: int) -> Sheet:
    """The sheet of one plan, with the steps and the times of that plan alone."""
    plan = get_object_or_404(Plan.objects.select_related("build"), pk=pk)
    facts = take(now())
    rows = list(_rows(plan, facts))
    sessions = plan.answer.get("sessions", [])
    tasks = [facts.task_by_id[row.code] for row in rows if row.code in facts.task_by_id]
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
            "groups": _groups(plan, rows),
            "start_by": _start_by(plan.answer),
            "start_by_late": _start_by(plan.late_answer) if plan.late_answer else "",
            "late_left_out": _left_out(plan.late_answer),
            "begins": _written(sessions[0]["start"]) if sessions else "",
            "ends": _written(sessions[-1]["finish"]) if sessions else "",
            "pack_out": said(plan.build.pack_out_at, plan.utc_offset_minutes)
            if plan.build.pack_out_at
            else "",
            "in_hand": in_hand(plan.answer),
            "gates": _gates(plan, facts),
            "totals": _totals(rows, plan),
            "sessions": sessions,
            "left_out": plan.answer.get("left_out", []),
            "notes": plan.asked.get("notes", []),
            "unproven": plan.answer.get("status") == "feasible",
            "battery_step": next((r.number for r in rows if r.battery), None),
            "decisions": _decisions(plan, facts),
            "cautions": cautions_for(tasks),
            "disturbed": disturbed(
                [
                    facts.component_by_id[row.code]
                    for row in rows
                    if row.does == words.StepDo.REMOVE
                    and row.code in facts.component_by_id
                ]
            ),
            "torque": _torque(rows, facts),
            "measured": [row for row in rows if row.does == words.StepDo.REMOVE],
        },
    )


def code_of(plan: Plan, step: int | None = None) -> str:
    """What is read aloud or typed where no camera works: TUPPENCE A 14."""
    parts = [plan.build.slug.upper(), plan.edition or "proposed"]
    return " ".join([*parts, *([str(step)] if step else [])])


def in_hand(answer: dict[str, Any] | None) -> str:
    """The time in hand of the chosen plan, as one says it."""
    if not answer or not answer.get("choices"):
        return ""
    sessions = len(answer["sessions"])
    for choice in answer["choices"]:
        if choice["sessions"] >= sessions and choice.get("in_hand_minutes") is not None:
            return f"{show_minutes(choice['in_hand_minutes'])} in hand"
    return ""


def disturbed(parts: list[ComponentFact]) -> dict[str, Any]:
    """Screws that these parts free: by size, by locker, and the nuts to be new.

    A single-use fastener is counted as a screw and as a new nut to be there.
    """
    screws = [f for part in parts for f in part.fastenings if f.screw]
    sizes: Counter[str] = Counter()
    lockers: Counter[words.Locker] = Counter()
    new = 0
    for fastening in screws:
        sizes[_thread(fastening.size)] += fastening.count
        lockers[fastening.locker] += fastening.count
        if fastening.single_use:
            new += fastening.count
    return {
        "total": sum(sizes.values()),
        "sizes": sorted(sizes.items()),
        "lockers": [(locker.label, count) for locker, count in lockers.items()],
        "new": new,
        "besides": [
            (part.id, f"{f.count} {f.size}")
            for part in parts
            for f in part.fastenings
            if not f.screw
        ],
    }


def _thread(size: str) -> str:
    return size.split("×")[0].split(" ")[0]


def _rows(plan: Plan, facts: Facts) -> Any:
    number = 0
    readings = {
        task.code: [
            f"{r.label}{f' ({r.unit})' if r.unit else ''}" for r in task.readings.all()
        ]
        for task in Task.objects.filter(build=plan.build).prefetch_related("readings")
    }
    for session in plan.answer.get("sessions", []):
        for step in session["steps"]:
            number += 1
            does = words.StepDo(step["do"])
            row = Row(
                number=number,
                does=does,
                code=step["id"],
                name=step["id"],
                minutes=show_minutes(step["minutes"]),
                clock=_clock(step["start"], step["finish"]),
                cured=_written(step["cured"]) if step.get("cured") else "",
            )
            if does is words.StepDo.TASK:
                task = facts.task_by_id.get(step["id"])
                if task is not None:
                    _tell_task(row, task, facts, readings.get(task.id, []))
            elif part := facts.component_by_id.get(step["id"]):
                _tell_part(row, part)
            yield row


def _tell_part(row: Row, part: ComponentFact) -> None:
    row.name = part.name
    row.screws = [_screws(f) for f in part.fastenings] or [part.held_by]
    row.watch = part.watch
    row.state = part.state.label
    row.is_final = part.state is words.ComponentState.FINAL
    row.battery = row.does is words.StepDo.REMOVE and part.bares_battery_plug


def _tell_task(row: Row, task: TaskFact, facts: Facts, readings: list[str]) -> None:
    row.name = task.title
    row.zone = " ".join(
        dict.fromkeys((*task.reach, *task.remove, *task.fits, *task.opens))
    )
    row.hold = task.is_hold
    row.keep_open = list(kept_open(task, facts))
    row.readings = readings
    row.parts = [
        f"{facts.line_by_id[need.name].title} ({need.name})"
        for need in task.needs
        if need.name in facts.line_by_id
    ] + [need.name for need in task.needs if need.kind is not words.NeedKind.ORDER]
    row.is_final = bool(task.fits)
    if task.for_good:
        row.never_again = [
            f"{name} {facts.component_by_id[name].name}"
            for name in shut_for_good(task.fits, facts.components)
        ]


def _screws(f: FasteningFact) -> str:
    told = f"{f.count}×{f.size}" if f.screw else f"{f.count} {f.size}"
    if f.screw or f.locker is not words.Locker.NONE:
        told += f" {f.locker.label}"
    if f.torque_mnm:
        told += f" {f.torque_mnm / 1000:g} N m"
    return f"{told}, bag {f.bag}" if f.bag else told


def _groups(plan: Plan, rows: list[Row]) -> list[Group]:
    sessions = [
        number
        for number, session in enumerate(plan.answer.get("sessions", []), start=1)
        for _ in session["steps"]
    ]
    groups = []
    for (session, does), steps in groupby(
        rows, key=lambda row: (sessions[row.number - 1], row.does)
    ):
        found = list(steps)
        letter, title = PARTS[does]
        groups.append(
            Group(
                letter=letter,
                title=title,
                session=session,
                rows=found,
                path=f"/plans/{plan.pk}/steps/{found[0].number}/",
            )
        )
    return groups


def _gates(plan: Plan, facts: Facts) -> list[dict[str, str]]:
    gates: dict[str, dict[str, Any]] = {}
    for gate in plan.asked.get("gates", []):
        line = facts.line_by_id.get(gate["line"])
        known = gates.setdefault(
            gate["line"],
            {
                "line": gate["line"],
                "title": line.title if line else "",
                "in_hand": gate["in_hand"],
                "likely": _written(gate["likely_at"]) if gate["likely_at"] else "",
                "late": _written(gate["late_at"]) if gate["late_at"] else "",
                "tasks": [],
            },
        )
        known["tasks"].append(gate["task"])
    return list(gates.values())


def _decisions(plan: Plan, facts: Facts) -> list[dict[str, str]]:
    """For each gate not in hand with a Plan B: by when to decide, and on what."""
    found = []
    for gate in _gates(plan, facts):
        plans_b = [
            fallback.title
            for name in gate["tasks"]
            if name in facts.task_by_id
            for fallback in facts.task_by_id[name].fallbacks
        ]
        if not gate["in_hand"] and plans_b:
            found.append({**gate, "plan_b": "; ".join(dict.fromkeys(plans_b))})
    return found


def _totals(rows: list[Row], plan: Plan) -> dict[str, str]:
    minutes: Counter[str] = Counter()
    cure = 0
    for session in plan.answer.get("sessions", []):
        for step in session["steps"]:
            minutes[step["do"]] += step["minutes"]
            if step.get("cured"):
                lasts = datetime.fromisoformat(step["cured"]) - datetime.fromisoformat(
                    step["finish"]
                )
                cure = max(cure, lasts // timedelta(minutes=1))
    return {
        "off": show_minutes(minutes["remove"]),
        "work": show_minutes(minutes["task"]),
        "on": show_minutes(minutes["refit"]),
        "cure": show_minutes(cure) if cure else "none",
    }


def _torque(rows: list[Row], facts: Facts) -> list[str]:
    """What is checked again after the shakedown: all that went back with a screw."""
    return [
        f"{row.code} {row.name}: {', '.join(row.screws)}"
        for row in rows
        if row.does is words.StepDo.REFIT
        and row.code in facts.component_by_id
        and facts.component_by_id[row.code].fastenings
    ]


def _start_by(answer: dict[str, Any] | None) -> str:
    if not answer or not answer.get("sessions"):
        return ""
    return _written(answer["sessions"][0]["latest_start"])


def _left_out(answer: dict[str, Any] | None) -> list[str]:
    return [row["task"] for row in answer["left_out"]] if answer else []


def _written(moment: str) -> str:
    return show_moment(datetime.fromisoformat(moment))


def _clock(start: str, finish: str) -> str:
    begins, ends = datetime.fromisoformat(start), datetime.fromisoformat(finish)
    if begins.date() == ends.date():
        return f"{show_moment(begins)}–{ends:%H:%M}"
    return f"{show_moment(begins)} – {show_moment(ends)}"
