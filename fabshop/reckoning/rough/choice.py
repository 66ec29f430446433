"""Which ways, by hours and stores alone: the choice before anything has a time."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from ortools.sat.python import cp_model

from fabshop.reckoning.schedule.best import Budget
from fabshop.reckoning.schedule.problem import Problem
from fabshop.reckoning.schedule.scope import Scope, scope_of

Ways = dict[int, int]
"""The way chosen of each activity that is done, by index."""

_MOST_MARKS = 40
_POINT = 100_000
"""Minutes count only between choices of equal points."""


@dataclass(frozen=True)
class Choice:
    """The ways chosen, and whether no better choice fits the hours."""

    ways: Ways
    missing: int
    points: int
    minutes: int
    is_proven: bool


def choose(
    problem: Problem,
    *,
    less: int = 0,
    limit_s: float = 1.0,
    steady: bool = False,
) -> Choice | None:
    """The most points that the hours can hold; of those, the least minutes.

    Work counts against a stretch of hours where it can begin no sooner and must be
    over no later; how it could be put in order is not asked, so what comes out is
    never too little. `less` takes so many minutes out of every stretch. A
    `steady` limit counts the solver's work and not the clock. None where nothing was
    found.
    """
    return _Choosing(problem, scope_of(problem), less).choice(Budget(limit_s, steady))


class _Choosing:
    def __init__(self, problem: Problem, scope: Scope, less: int) -> None:
        self.problem, self.scope, self.less = problem, scope, less
        self.model = cp_model.CpModel()
        jobs = problem.jobs
        self.open = [i for i in range(len(jobs)) if scope.is_open(i)]
        self.taken = {
            (i, n): self.model.new_bool_var(f"{i} {n}")
            for i in self.open
            for n in scope.ways[i]
        }
        self.done = {i: sum(self.taken[i, n] for n in scope.ways[i]) for i in self.open}
        self.spared = {
            i: [self.taken[key] for key in scope.sparers[i] if key in self.taken]
            for i in range(len(jobs))
        }
        self.missed: list[Any] = []
        # A must that can never be done, nor be spared, is missing from every plan.
        self.never = sum(
            job.required and not scope.is_open(i) and not self.spared[i]
            for i, job in enumerate(jobs)
        )
        self._each_once()
        self._nothing_without_what_it_needs()
        self._no_more_taken_than_is_in_store()
        self._no_more_work_than_hours()

    def _each_once(self) -> None:
        for i in self.open:
            self.model.add(self.done[i] <= 1)
            if self.problem.jobs[i].required:
                missed = self.model.new_bool_var(f"without {i}")
                self.model.add(self.done[i] + sum(self.spared[i]) + missed >= 1)
                self.missed.append(missed)

    def _nothing_without_what_it_needs(self) -> None:
        for (i, n), taken in self.taken.items():
            for before, _ in self.problem.jobs[i].ways[n].after:
                there = self.done.get(before, 0)
                self.model.add(there + sum(self.spared[before]) >= taken)

    def _no_more_taken_than_is_in_store(self) -> None:
        for store, amount in enumerate(self.problem.stores):
            terms = [
                dict(self.problem.jobs[i].ways[n].takes).get(store, 0) * taken
                for (i, n), taken in self.taken.items()
            ]
            self.model.add(sum(terms) <= amount)

    def _no_more_work_than_hours(self) -> None:
        lates = latest_ends(self.problem, self.scope)
        for resource, capacity in enumerate(self.problem.capacities):
            axis = self.problem.axes[self.problem.resource_axes[resource]]
            if (
                capacity != 1
                or self.problem.windows[self.problem.resource_axes[resource]] is None
            ):
                continue
            rows = []
            for (i, n), taken in self.taken.items():
                way = self.problem.jobs[i].ways[n]
                if dict(way.uses).get(resource):
                    low = axis.position_from(self.scope.heads[i])
                    high = axis.last_position_by(lates[i])
                    rows.append((low, high, way.minutes, taken))
            lows = _marks({low for low, _, _, _ in rows})
            highs = _marks({high for _, high, _, _ in rows})
            for low in lows:
                for high in highs:
                    inside = [r for r in rows if r[0] >= low and r[1] <= high]
                    room = max(0, high - low - self.less)
                    if high > low and sum(r[2] for r in inside) > room:
                        self.model.add(sum(r[2] * r[3] for r in inside) <= room)

    def choice(self, budget: Budget) -> Choice | None:
        jobs = self.problem.jobs
        points = sum(
            jobs[i].ways[n].points * taken for (i, n), taken in self.taken.items()
        )
        minutes = sum(
            # Of ways that are as short, the first one: the final.
            (2 * jobs[i].ways[n].minutes + (n > 0)) * taken
            for (i, n), taken in self.taken.items()
            if jobs[i].ways[n].uses
        )
        lacking = sum(self.missed) if self.missed else 0
        most = sum(max(0, max((w.points for w in job.ways), default=0)) for job in jobs)
        self.model.maximize(
            points * _POINT - minutes - lacking * (most + 1) * 2 * _POINT
        )
        outcome = budget.run(self.model, limit_s=budget.left_s)
        if not outcome.is_solved:
            return None
        ways = {i: n for (i, n), taken in self.taken.items() if outcome.holds(taken)}
        missed = sum(outcome.holds(one) for one in self.missed)
        return Choice(
            ways,
            missed + self.never,
            sum(jobs[i].ways[n].points for i, n in ways.items()),
            sum(
                jobs[i].ways[n].minutes for i, n in ways.items() if jobs[i].ways[n].uses
            ),
            outcome.is_proven,
        )


def latest_ends(problem: Problem, scope: Scope) -> list[int]:
    """By when each must be over for what surely comes after it, on the clock."""
    jobs = problem.jobs
    lates = [min(job.due, problem.horizon) for job in jobs]
    for _ in range(len(jobs)):
        changed = False
        for i, job in enumerate(jobs):
            if not (job.required and scope.is_open(i)) or scope.sparers[i]:
                continue
            ways = [job.ways[n] for n in scope.ways[i]]
            start = max(_start_by(problem, way, lates[i]) for way in ways)
            shared: Mapping[int, int] = dict(ways[0].after)
            for before in shared:
                lags = [dict(way.after).get(before) for way in ways]
                if any(one is None for one in lags):
                    continue
                by = start - min(one for one in lags if one is not None)
                if by < lates[before]:
                    lates[before], changed = by, True
        if not changed:
            break
    return lates


def _start_by(problem: Problem, way: Any, end: int) -> int:
    """The last clock minute at which it may begin so as to be over by `end`."""
    axis = problem.axes[way.axis]
    if problem.windows[way.axis] is None:
        return int(end - way.minutes)
    position = axis.last_position_by(end) - way.minutes
    return axis.start_clock(position) if 0 <= position < axis.length else min(end, 0)


def _marks(found: set[int]) -> list[int]:
    """All of them, or as many spread over them where there are very many."""
    marks = sorted(found)
    step = max(1, -(-len(marks) // _MOST_MARKS))
    return marks[::step]
