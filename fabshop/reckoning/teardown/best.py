"""A plan found, what it comes to, and how far each of its aims is proven."""

from __future__ import annotations

import time
from dataclasses import dataclass, field

from fabshop.reckoning.teardown.problem import Problem
from fabshop.reckoning.teardown.timing import Plan, Times, Timing, step_minutes


@dataclass(frozen=True)
class Aim:
    """One of the aims, what was reached of it, and what is proven about it."""

    name: str
    reached: int
    bound: int

    @property
    def is_proven(self) -> bool:
        return self.reached == self.bound


@dataclass(frozen=True)
class Totals:
    """What a plan comes to."""

    required: int
    points: int
    others: int
    handling: int


@dataclass(frozen=True)
class Best:
    """The best plan found, and how far each aim is proven."""

    plan: Plan
    aims: tuple[Aim, ...]

    @property
    def gap(self) -> Aim | None:
        """The first aim that is not proven."""
        return next((aim for aim in self.aims if not aim.is_proven), None)


def totals_of(problem: Problem, plan: Plan) -> Totals:
    """Counted from the steps, not from the solver."""
    steps = [step for session in plan for step in session]
    done = [problem.jobs[step.index] for step in steps if step.do == "task"]
    return Totals(
        required=sum(job.required for job in done),
        points=sum(job.points for job in done),
        others=sum(not job.required for job in done),
        handling=problem.setup * len(plan)
        + sum(step_minutes(problem, step) for step in steps if step.do != "task"),
    )


def finish_of(problem: Problem, plan: Plan) -> int:
    """The worked minute at which the plan ends when done as early as it can be."""
    times = Timing(problem, plan).earliest()
    assert times is not None
    return end_of(problem, plan, times)


def end_of(problem: Problem, plan: Plan, times: Times) -> int:
    """The worked minute at which the last step of the last session is over."""
    if not plan:
        return 0
    return times.starts[-1][-1] + step_minutes(problem, plan[-1][-1])


@dataclass
class Budget:
    """The time left for one question."""

    limit_s: float
    began: float = field(default_factory=time.monotonic)

    @property
    def left_s(self) -> float:
        """Seconds until the limit, never less than none."""
        return max(0.0, self.began + self.limit_s - time.monotonic())

    def share(self, part: float) -> Budget:
        """A budget of its own out of what is left."""
        return Budget(self.left_s * part)
