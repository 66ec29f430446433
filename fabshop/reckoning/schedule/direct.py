"""The plainest model of a project, as anybody would write it: the bench's yardstick.

No first plan, no bounds of our own, no windows: one interval an activity.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from ortools.sat.python import cp_model

from fabshop.reckoning import solver
from fabshop.reckoning.questions.schedule import schedule_question
from fabshop.reckoning.schedule.problem import problem_of

WORKERS = 2


@dataclass(frozen=True)
class Direct:
    """What the plain model reached."""

    makespan: int | None
    bound: int
    is_proven: bool
    seconds: float


def direct_makespan(question: dict[str, Any], limit_s: float) -> Direct:
    """Of a question without windows, points and deadline; each activity's first way."""
    problem = problem_of(schedule_question(question))
    model = cp_model.CpModel()
    horizon = sum(job.ways[0].minutes for job in problem.jobs)
    starts = [model.new_int_var(0, horizon, job.id) for job in problem.jobs]
    makespan = model.new_int_var(0, horizon, "makespan")
    held: list[list[Any]] = [[] for _ in problem.capacities]
    for job, start in zip(problem.jobs, starts, strict=True):
        way = job.ways[0]
        interval = model.new_fixed_size_interval_var(start, way.minutes, job.id)
        for resource, units in way.uses:
            held[resource].append((interval, units))
        for before, lag in way.after:
            end = starts[before] + problem.jobs[before].ways[0].minutes
            model.add(start >= end + lag)
        model.add(makespan >= start + way.minutes)
    for capacity, rows in zip(problem.capacities, held, strict=True):
        if rows:
            model.add_cumulative([i for i, _ in rows], [u for _, u in rows], capacity)
    model.minimize(makespan)
    outcome = solver.run(model, limit_s=limit_s, workers=WORKERS)
    return Direct(
        outcome.best if outcome.is_solved else None,
        outcome.bound,
        outcome.is_proven,
        outcome.seconds,
    )
