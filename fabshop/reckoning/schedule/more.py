"""What a plan leaves out, tried once more in the room that it leaves."""

from __future__ import annotations

from collections.abc import Callable

from fabshop.reckoning.schedule.best import finish_of, rank_of
from fabshop.reckoning.schedule.place import (
    Plan,
    in_order,
    placed_in_order,
    spared_by,
)
from fabshop.reckoning.schedule.problem import Job, Problem, Way
from fabshop.reckoning.schedule.scope import Scope


def with_more_done(problem: Problem, scope: Scope, plan: Plan) -> Plan:
    """What counts for something, the most points a minute first; never worse."""
    return _with(problem, scope, plan, lambda job, way: job.required or way.points > 0)


def with_gaps_filled(problem: Problem, scope: Scope, plan: Plan) -> Plan:
    """What counts for nothing, where it costs nothing: no later end, nothing lost."""
    room = problem.within(finish_of(plan))
    return _with(
        room, scope, plan, lambda job, way: not job.required and not way.points
    )


def _with(
    problem: Problem, scope: Scope, plan: Plan, is_wanted: Callable[[Job, Way], bool]
) -> Plan:
    ways = {i: placed.way for i, placed in plan.items()}
    order = [float(problem.horizon)] * len(problem.jobs)
    for i, placed in plan.items():
        order[i] = float(placed.start)
    spared = spared_by(problem, list(ways.items()))
    for i, job in enumerate(problem.jobs):
        if i in plan or i in spared:
            continue
        found = [n for n in scope.ways[i] if is_wanted(job, job.ways[n])]
        if found:
            best = max(found, key=lambda n: (_worth(job.ways[n]), -job.ways[n].minutes))
            ways[i] = best
            order[i] = problem.horizon + (
                0 if job.required else 1 - _worth_share(job, best)
            )
    more = placed_in_order(problem, in_order(problem, ways, order))
    # All that was planned goes first, so it is in its place again; what is added may
    # still stand in the way of what relied on its being left out.
    return more if rank_of(problem, more) >= rank_of(problem, plan) else plan


def _worth(way: Way) -> float:
    return way.points / max(1, way.minutes)


def _worth_share(job: Job, number: int) -> float:
    """Between 0 and 1, more for more points a minute."""
    worth = max(0.0, _worth(job.ways[number]))
    return worth / (1 + worth)
