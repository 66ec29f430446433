"""What a schedule comes to, aim by aim, and how far each aim is proven."""

from __future__ import annotations

import time
from dataclasses import dataclass, field
from typing import Any

from ortools.sat.python import cp_model

from fabshop.reckoning import solver
from fabshop.reckoning.schedule.place import Plan, spared_by
from fabshop.reckoning.schedule.problem import Problem

Rank = tuple[int, int, int, int]
"""Pins kept, required done, points, and the last finish, negative: more is better."""
AIMS = ("pinned", "required", "points", "finish")


def rank_of(problem: Problem, plan: Plan) -> Rank:
    """Counted from the plan, not from the solver."""
    spared = spared_by(problem, [(i, placed.way) for i, placed in plan.items()])
    jobs = problem.jobs
    return (
        sum(1 for i, p in plan.items() if jobs[i].pinned == p.way),
        sum(
            1
            for i, job in enumerate(jobs)
            if job.required and (i in plan or i in spared)
        ),
        sum(jobs[i].ways[placed.way].points for i, placed in plan.items()),
        -finish_of(plan),
    )


def finish_of(plan: Plan) -> int:
    """When the last of it is over; the origin where nothing is done."""
    return max((placed.finish for placed in plan.values()), default=0)


@dataclass(frozen=True)
class Best:
    """The best plan found, and the most that each aim can be at all (as in `rank`).

    A bound holds for plans that reach the aims before it.
    """

    plan: Plan
    rank: Rank
    bounds: Rank

    @property
    def gap(self) -> int | None:
        """The first aim that is not proven, by its place in `AIMS`."""
        for place, (reached, bound) in enumerate(
            zip(self.rank, self.bounds, strict=True)
        ):
            if reached != bound:
                return place
        return None


EFFORT_PER_S = 0.4
"""Of the solver's own units of work, what it gets through in a second, roughly."""
_SLACK = 10.0
"""A steady budget gives up by the clock only after so many times its seconds."""


@dataclass
class Budget:
    """The time left for one question.

    A `steady` one counts work and not the clock: the solver's own units and the tries
    made. So the same question is answered the same on a busy machine; only the wait is
    longer.
    """

    limit_s: float
    steady: bool = False
    parent: Budget | None = None
    began: float = field(default_factory=time.monotonic)
    spent_s: float = 0.0

    @property
    def left_s(self) -> float:
        """Seconds until the limit, never less than none."""
        past_s = time.monotonic() - self.began
        if self.steady:
            past_s = self.spent_s if past_s < _SLACK * self.limit_s else self.limit_s
        return max(0.0, self.limit_s - past_s)

    def part(self, limit_s: float) -> Budget:
        """So much of it; what is spent there is spent here."""
        return Budget(limit_s, self.steady, self)

    def spend(self, seconds: float) -> None:
        self.spent_s += seconds
        if self.parent is not None:
            self.parent.spend(seconds)

    def run(
        self,
        model: cp_model.CpModel,
        *,
        limit_s: float,
        effort: float = solver.NEVER_PROVEN,
        **settings: Any,
    ) -> solver.Outcome:
        """Runs the solver for so much of it."""
        if not self.steady:
            return solver.run(model, limit_s=limit_s, effort=effort, **settings)
        effort = min(effort, limit_s * EFFORT_PER_S)
        limit_s *= _SLACK
        outcome = solver.run(model, limit_s=limit_s, effort=effort, **settings)
        self.spend(outcome.effort / EFFORT_PER_S)
        return outcome


_PLACED_PER_S = 25_000
"""Activities placed in a second, on a slow day: counts, not clocks, end a search."""


def tries_in(seconds: float, activities: int, placings: int) -> int:
    """How many plans can be tried in the time, each placed so many times."""
    return int(seconds * _PLACED_PER_S / (max(1, activities) * placings))
