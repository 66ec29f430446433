"""What a schedule comes to, aim by aim, and how far each aim is proven."""

from __future__ import annotations

import time
from dataclasses import dataclass, field

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


@dataclass
class Budget:
    """The time left for one question."""

    limit_s: float
    began: float = field(default_factory=time.monotonic)

    @property
    def left_s(self) -> float:
        """Seconds until the limit, never less than none."""
        return max(0.0, self.began + self.limit_s - time.monotonic())


_PLACED_PER_S = 25_000
"""Activities placed in a second, on a slow day: counts, not clocks, end a search."""


def tries_in(seconds: float, activities: int, placings: int) -> int:
    """How many plans can be tried in the time, each placed so many times."""
    return int(seconds * _PLACED_PER_S / (max(1, activities) * placings))
