"""The lines of a teardown sheet: one a step, every word of it ready to print."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date
from itertools import groupby
from typing import Any

from fabshop import words
from fabshop.reckoning.closing import shut_for_good
from fabshop.reckoning.facts import Facts
from fabshop.records.build import Component, Fastening
from fabshop.records.plan import Plan
from fabshop.records.task import Need, Reading, Task
from fabshop.snapshot import wall_of
from fabshop.units import show_day, show_milli, show_minutes, show_moment

OFF, OPEN, ON, CLOSED = "A", "B", "C", "D"
LOCKERS = {
    words.Locker.NONE: "dry",
    words.Locker.MEDIUM: "medium",
    words.Locker.HIGH: "high",
    words.Locker.NYLON_NUT: "new nut",
}
TITLES = {OFF: "Off", OPEN: "While it is open", ON: "On", CLOSED: "Closed up"}


@dataclass(frozen=True)
class Blank:
    """A reading to write down: a box to tick, or a line with its unit and bounds."""

    label: str
    is_tick: bool
    unit: str
    bounds: str


@dataclass
class Row:
    """One step. `starts`, `ends` carry their weekday where the day changes in it."""

    number: int
    session: int
    letter: str
    code: str
    name: str
    minutes: str
    on: date
    starts: str
    ends: str
    side: str = ""
    held: list[str] = field(default_factory=list)
    bag: str = ""
    wants_bag: bool = False
    new_nuts: list[str] = field(default_factory=list)
    watch: str = ""
    state: words.ComponentState | None = None
    bares_plug: bool = False
    zone: str = ""
    parts: list[str] = field(default_factory=list)
    cured: str = ""
    is_hold: bool = False
    keeps_open: list[str] = field(default_factory=list)
    readings: list[Blank] = field(default_factory=list)
    never_again: list[str] = field(default_factory=list)
    path: str = ""
    band: str = ""
    band_day: str = ""


class Lines:
    """Reads the records that a plan's steps name, once for all of them."""

    def __init__(self, plan: Plan, facts: Facts) -> None:
        self.plan = plan
        self.facts = facts
        self.wall = wall_of(plan)
        self.asked = {task["id"]: task for task in plan.question.get("tasks", ())}
        names = {step["id"] for _, step in steps_of(plan)}
        self.parts = {
            part.code: part
            for part in Component.objects.filter(code__in=names).prefetch_related(
                "fastenings"
            )
        }
        self.tasks = {
            task.code: task
            for task in Task.objects.filter(code__in=names).prefetch_related(
                "readings", "needs__line__order"
            )
        }

    def rows(self) -> Iterator[Row]:
        for number, (session, step) in enumerate(steps_of(self.plan), start=1):
            starts, ends = self.wall.at(step["start"]), self.wall.at(step["finish"])
            does = words.StepDo(step["do"])
            row = Row(
                number=number,
                session=session,
                letter=self._letter(does, step["id"]),
                code=step["id"],
                name="",
                minutes=show_minutes(step["minutes"]),
                on=starts.date(),
                starts=f"{starts:%H:%M}",
                ends=f"{ends:%H:%M}"
                if ends.date() == starts.date()
                else show_moment(ends),
                path=f"/plans/{self.plan.pk}/steps/{number}/",
            )
            if does is words.StepDo.TASK:
                self._tell_task(row, step)
            elif part := self.parts.get(step["id"]):
                _tell_part(row, part)
            yield row

    def _letter(self, does: words.StepDo, name: str) -> str:
        if does is words.StepDo.TASK:
            return CLOSED if self.asked.get(name, {}).get("closed") else OPEN
        return OFF if does is words.StepDo.REMOVE else ON

    def _tell_task(self, row: Row, step: dict[str, Any]) -> None:
        asked = self.asked.get(row.code, {})
        sites = [*asked.get("fits", ()), *asked.get("remove", ())]
        row.zone = " ".join(dict.fromkeys([*sites, *asked.get("reach", ())]))
        row.keeps_open = sorted(asked.get("keeps_open", ()))
        row.cured = self.wall.say(step["cured"]) if asked.get("cure") else ""
        if asked.get("for_good"):
            row.never_again = [
                f"{name} {self.facts.component_by_id[name].name}"
                for name in shut_for_good(asked["fits"], self.facts.components)
            ]
        task = self.tasks.get(row.code)
        if task is None:
            return
        row.name = task.title
        row.is_hold = task.is_hold
        row.parts = [_need(need) for need in task.needs.all()]
        row.readings = [_blank(reading) for reading in task.readings.all()]


def sessions_of(rows: list[Row]) -> list[list[Row]]:
    """The rows by session; a band stands where the kind of step or the day changes."""
    sessions = [list(found) for _, found in groupby(rows, key=lambda row: row.session)]
    for found in sessions:
        before: Row | None = None
        for row in found:
            if before is None or before.letter != row.letter:
                row.band = f"{row.letter}. {TITLES[row.letter]}"
            if row.band or before is None or before.on != row.on:
                row.band_day = show_day(row.on)
            before = row
    return sessions


def steps_of(plan: Plan) -> list[tuple[int, dict[str, Any]]]:
    """Every step with the number of its session, in order."""
    return [
        (session, step)
        for session, told in enumerate(plan.answer.get("sessions", ()), start=1)
        for step in told["steps"]
    ]


def held_by(fastening: Fastening) -> str:
    """What holds a part, the locker as its word: `4×M4×12 SH, medium`."""
    if not fastening.is_screw:
        return f"{fastening.count} {fastening.size}"
    locker = LOCKERS[words.Locker(fastening.locker)]
    told = f"{fastening.count}×{fastening.size}, {locker}"
    if fastening.torque_mnm:
        told += f", {show_milli(fastening.torque_mnm)} N m"
    return told


def _tell_part(row: Row, part: Component) -> None:
    row.name = part.name
    row.side = words.Side(part.side).label
    fastenings = list(part.fastenings.all())
    row.held = [held_by(fastening) for fastening in fastenings] or [part.held_by]
    row.bag = ", ".join(dict.fromkeys(f.bag for f in fastenings if f.bag))
    row.wants_bag = bool(fastenings)
    row.watch = part.watch
    if row.letter == OFF:
        row.bares_plug = part.bares_battery_plug
        return
    row.state = words.ComponentState(part.state)
    row.new_nuts = [
        f"{f.count} new {'nuts' if f.is_screw else f.size}"
        for f in fastenings
        if f.is_single_use
    ]


def _need(need: Need) -> str:
    if need.line is None:
        return f"{need.rack_code} {need.note}".strip()
    return f"{need.line.order.code}/{need.line.number} {need.line.title}"


def _blank(reading: Reading) -> Blank:
    low, high = reading.low, reading.high
    bounds = ""
    if low is not None and high is not None:
        bounds = f"{_plain(low)} to {_plain(high)}"
    elif low is not None:
        bounds = f"at least {_plain(low)}"
    elif high is not None:
        bounds = f"at most {_plain(high)}"
    is_tick = reading.kind == words.ReadingKind.TICK
    return Blank(reading.label, is_tick, reading.unit, bounds)


def _plain(figure: Any) -> str:
    return f"{figure.normalize():f}"
