"""The goals that have a Plan B, and the last moment at which each can still be had."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from math import floor

from fabshop.reckoning.facts import Facts, FallbackFact, TaskFact
from fabshop.reckoning.hours import factors_of
from fabshop.reckoning.readiness.due import latest_starts
from fabshop.reckoning.readiness.waits import waits_for
from fabshop.reckoning.window import Bench


@dataclass(frozen=True)
class Goal:
    """A task with another way to do it. `last_switch` None: no pack-out is known.

    `points` and `plan_b_points` are what the one and the other are worth.
    """

    task: str
    title: str
    points: int
    plan_b: str
    plan_b_points: int
    is_chosen: bool
    last_switch: datetime | None


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

    def last_switch(task: TaskFact, plan_b: FallbackFact) -> datetime | None:
        ends = [starts.get(name) for name in followers.get(task.id, ())]
        ends.append(_pack_out(task, facts))
        known = [end for end in ends if end is not None]
        if not known:
            return None
        factor = factors[task.family].factor if task.family in factors else 1.0
        minutes = floor(plan_b.minutes * factor + 0.5)
        return bench.latest_start(min(known), minutes) if minutes else min(known)

    found = [
        Goal(
            task=task.id,
            title=task.title,
            points=task.points,
            plan_b=plan_b.title,
            plan_b_points=plan_b.points,
            is_chosen=plan_b.chosen,
            last_switch=last_switch(task, plan_b),
        )
        for task in facts.tasks
        if not task.is_finished
        for plan_b in task.fallbacks
    ]
    return tuple(sorted(found, key=lambda goal: (-goal.points, goal.task)))


def _pack_out(task: TaskFact, facts: Facts) -> datetime | None:
    build = facts.build_by_id.get(task.build)
    if build is not None:
        return build.pack_out
    return min((b.pack_out for b in facts.builds if b.pack_out), default=None)
