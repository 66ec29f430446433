"""What no schedule can better: the longest chain, and the work against the hours."""

from __future__ import annotations

from fabshop.reckoning.schedule.problem import Problem
from fabshop.reckoning.schedule.scope import Scope


def earliest_finish(problem: Problem, scope: Scope, surely: set[int]) -> int:
    """No plan that does all of `surely` is over before this clock minute."""
    chain = max((scope.ends[i] for i in surely), default=0)
    return max(
        chain,
        *(
            _work_is_over(problem, scope, surely, resource)
            for resource in range(len(problem.capacities))
        ),
        0,
    )


def _work_is_over(
    problem: Problem, scope: Scope, surely: set[int], resource: int
) -> int:
    """When the work that surely wants this resource can be over, from each start on."""
    capacity = problem.capacities[resource]
    along = problem.axes[problem.resource_axes[resource]]
    wanted = []
    for i in surely:
        ways = [problem.jobs[i].ways[n] for n in scope.ways[i]]
        least = min(dict(way.uses).get(resource, 0) * way.minutes for way in ways)
        if least:
            wanted.append((along.position_from(scope.heads[i]), least))
    over, load = 0, 0
    for position, work in sorted(wanted, reverse=True):
        load += work
        over = max(over, position - (-load // capacity))
    if not over:
        return 0
    return along.end_clock(over) if over <= along.length else problem.horizon
