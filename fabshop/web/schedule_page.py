"""What the page of the plan shows: the sentence, the days, and what was left out."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any

from fabshop.actions.schedule import plan_drift
from fabshop.reckoning.facts import Facts
from fabshop.reckoning.planning.question import BESIDES
from fabshop.reckoning.planning.story import Row
from fabshop.reckoning.planning.telling import (
    chance_words,
    gap_words,
    late_words,
    lead,
    missing_words,
)
from fabshop.snapshot.kept_plan import KeptPlan
from fabshop.units import show_minutes, show_moment


@dataclass(frozen=True)
class Line:
    """One stretch of a day, ready to be shown."""

    row: Row
    span: str
    task: str
    title: str
    says: tuple[str, ...]
    is_done: bool
    is_late: bool


@dataclass(frozen=True)
class DayOf:
    """One day of the plan: the work in its order, and who is at it how long."""

    on: date
    minutes: int
    lines: tuple[Line, ...]
    comes: tuple[str, ...]
    is_past: bool


def plan_page(kept: KeptPlan, facts: Facts, now: datetime) -> dict[str, Any]:
    story = kept.story
    return {
        "lead": lead(kept.story, kept.shift),
        "drift": plan_drift(kept, facts),
        "days": _days(kept, facts),
        "beside_late": late_words(kept.late),
        "chance": chance_words(kept.plan.sure),
        "gap": gap_words(story),
        "notes": story.beside.get("notes", []),
        "factors": story.beside.get("factors", {}),
        "hours": show_minutes(story.hours_minutes),
        "used": show_minutes(story.worked_minutes),
        "in_hand": story.in_hand_minutes,
        "points": story.points,
        "most_points": story.most_points,
        "sessions": _sessions(kept, facts),
        "missing": missing_words(story),
    }


def _days(kept: KeptPlan, facts: Facts) -> list[DayOf]:
    comes: dict[date, list[str]] = {}
    lines = kept.story.beside.get("lines", {})
    for name, row in kept.story.done.items():
        if name in lines:
            at = kept.now_at(datetime.fromisoformat(row["start"]))
            told = f"{lines[name]['order']} {lines[name]['title']}"
            if told not in comes.setdefault(at.date(), []):
                comes[at.date()].append(told)
    rows = [row for row in kept.story.rows if row.minutes or row.run_ends]
    days = {day for row in rows for day in _dates(row, kept)} | set(comes)
    found = []
    for on in sorted(days):
        of_day = [row for row in rows if on in _dates(row, kept)]
        found.append(
            DayOf(
                on=on,
                minutes=_worked(on, kept),
                lines=tuple(_line(row, kept, facts, on) for row in of_day),
                comes=tuple(comes.get(on, ())),
                is_past=on < facts.now.date(),
            )
        )
    return found


def _dates(row: Row, kept: KeptPlan) -> list[date]:
    """The days on which it is worked at: those of its hours, not those between."""
    start, finish = kept.now_at(row.start), kept.now_at(row.finish)
    if row.by or not row.minutes:
        return [start.date()]
    hours = [
        (kept.now_at(span.start), kept.now_at(span.end))
        for span in kept.story.bench.spans
    ]
    return list(
        dict.fromkeys(
            low.date() for low, high in hours if low < finish and high > start
        )
    )


def _worked(on: date, kept: KeptPlan) -> int:
    """Bench minutes that the plan uses on a day."""
    bench = kept.story.bench
    begins = datetime.combine(on, time()) - kept.shift
    ends = begins + timedelta(days=1)
    return sum(
        max(
            0,
            bench.minutes_until(min(row.finish, ends))
            - bench.minutes_until(max(row.start, begins)),
        )
        for row in kept.story.rows
        if not row.by
    )


def _line(row: Row, kept: KeptPlan, facts: Facts, on: date) -> Line:
    start, finish = kept.now_at(row.start), kept.now_at(row.finish)
    known = facts.task_by_id.get(row.task)
    says = []
    if row.is_plan_b:
        says.append("Plan B")
    if row.way == "left":
        says.append("given up")
    if row.by == BESIDES:
        says.append("somebody in, outside bench hours")
    elif row.by:
        says.append(row.by)
    if row.run_ends:
        ends = show_moment(kept.now_at(row.run_ends))
        says.append(f"{row.machine or 'it'} runs until {ends}")
    if row.cured:
        says.append(f"cures until {show_moment(kept.now_at(row.cured))}")
    if row.parts:
        says.append(" ".join(row.parts))
    begins = f"{start:%H:%M}" if start.date() == on else "on"
    ends = f"{finish:%H:%M}" if finish.date() == on else f"{finish:%a %H:%M}"
    is_done = known is None or known.is_finished if row.task else False
    return Line(
        row=row,
        span=f"{begins} to {ends}",
        task=row.task,
        title=row.title,
        says=tuple(says),
        is_done=is_done,
        is_late=bool(row.task) and not is_done and finish < facts.now,
    )


def _sessions(kept: KeptPlan, facts: Facts) -> list[dict[str, Any]]:
    """Where each teardown lies, and whose order its steps are in."""
    found = []
    for session in kept.story.beside.get("sessions", ()):
        rows = [row for row in kept.story.rows if row.session == session["build"]]
        if not rows:
            continue
        build = facts.build_by_id.get(session["build"])
        found.append(
            {
                "build": build.name if build else session["build"],
                "slug": session["build"],
                "edition": session["edition"],
                "begins": kept.now_at(rows[0].start),
                "ends": kept.now_at(rows[-1].finish),
                "by": kept.now_at(kept.story.latest_start_of(rows[0])),
                "ways": session["ways"],
            }
        )
    return found
