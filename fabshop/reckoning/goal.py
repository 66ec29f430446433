"""The goals that have a Plan B, and the last moment at which each can still be had."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from math import floor

from fabshop.reckoning.facts import Facts, FallbackFact, TaskFact
from fabshop.reckoning.hours import factors_of
from fabshop.reckoning.readiness.due import latest_starts, pack_out_of
from fabshop.reckoning.readiness.waits import waits_for
from fabshop.reckoning.window import Bench


@dataclass(frozen=True)
class Goal:
    """A task with another way to do it.

    `points` and `plan_b_points` are what the one and the other are worth,
    `plan_b_minutes` what the other takes by the family's factor. `last_switch` None:
    no pack-out is known, or (`is_too_late`) no hours are left in which it fits.
    """

    task: str
    title: str
    points: int
    plan_b: str
    plan_b_points: int
    plan_b_minutes: int
    is_chosen: bool
    last_switch: datetime | None
    is_too_late: bool


def goals(facts: Facts) -> tuple[Goal, ...]:
    """Every open task with a Plan B, most points first.

    The last moment to switch is worked back from what comes after the task (or
    pack-out) through the bench hours by the Plan B's own minutes, factored by its
    family, as if it had the bench to itself: never too early, and too late where
    other work wants the same hours.
    """
    waits = waits_for(facts)
    starts = latest_starts(facts, waits)
    followers: dict[str, list[str]] = {}
    for name, befores in waits.items():
        for before in befores:
            followers.setdefault(before, []).append(name)
    bench, factors = Bench(facts.windows, facts.now), factors_of(facts)

    def is_past(end: datetime, last: datetime | None) -> bool:
        if last is None:  # where no hours are entered at all nobody knows
            return end < facts.now or bench.minutes > 0
        return last < facts.now

    def goal_of(task: TaskFact, plan_b: FallbackFact) -> Goal:
        ends = [starts.get(name) for name in followers.get(task.id, ())]
        ends.append(pack_out_of(task, facts))
        known = [end for end in ends if end is not None]
        factor = factors[task.family].factor if task.family in factors else 1.0
        minutes = floor(plan_b.minutes * factor + 0.5)
        end = min(known, default=None)
        last = bench.latest_start(end, minutes) if end else None
        return Goal(
            task=task.id,
            title=task.title,
            points=task.points,
            plan_b=plan_b.title,
            plan_b_points=plan_b.points,
            plan_b_minutes=minutes,
            is_chosen=plan_b.chosen,
            last_switch=last,
            is_too_late=end is not None and is_past(end, last),
        )

    found = [
        goal_of(task, plan_b)
        for task in facts.tasks
        if not task.is_finished
        for plan_b in task.fallbacks
    ]
    return tuple(sorted(found, key=lambda goal: (-goal.points, goal.task)))
