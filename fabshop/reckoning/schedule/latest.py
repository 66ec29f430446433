"""How late each activity of a plan may end, its order and its ways kept."""

from __future__ import annotations

from bisect import bisect_right

from fabshop.reckoning.schedule.best import finish_of
from fabshop.reckoning.schedule.place import Plan
from fabshop.reckoning.schedule.problem import CLOCK, Job, Problem, Way


def latest_finishes(problem: Problem, plan: Plan) -> dict[int, int]:
    """Clock minutes by which each must be over so that all still ends in time.

    In time is by the deadline and each own limit; without a deadline, no later than
    the plan itself. Who hands a person or machine on to whom stays as planned.
    """
    limit = problem.horizon if problem.has_deadline else finish_of(plan)
    order = sorted(plan, key=lambda i: (plan[i].start, plan[i].finish))
    latest = {i: min(problem.jobs[i].due, limit) for i in order}
    behind = arcs(problem, plan)
    starts: dict[int, int] = {}
    for i in reversed(order):
        job = problem.jobs[i]
        way = job.ways[plan[i].way]
        bound = min([latest[i], *(starts[later] - lag for later, lag in behind[i])])
        starts[i], latest[i] = _last_span(problem, job, way, bound)
    return latest


def arcs(problem: Problem, plan: Plan) -> dict[int, list[tuple[int, int]]]:
    """What follows each activity, with the lag: by its work, or by what it hands on.

    Listed in an order in which each comes before what follows it.
    """
    behind: dict[int, list[tuple[int, int]]] = {i: [] for i in plan}
    for i, placed in plan.items():
        for before, lag in problem.jobs[i].ways[placed.way].after:
            if before in plan:
                behind[before].append((i, lag))
    for resource, capacity in enumerate(problem.capacities):
        for giver, taker in _handed_on(problem, plan, resource, capacity):
            behind[giver].append((taker, 0))
    return behind


def _handed_on(
    problem: Problem, plan: Plan, resource: int, capacity: int
) -> list[tuple[int, int]]:
    """Who gives units of the resource to whom; who ended last gives first."""
    holders: list[tuple[int, int, int]] = [(0, -1, capacity)]
    found = []
    by_start = sorted(plan, key=lambda i: (plan[i].start, plan[i].finish))
    for i in by_start:
        placed = plan[i]
        wanted = dict(problem.jobs[i].ways[placed.way].uses).get(resource, 0)
        if not wanted:
            continue
        holders.sort()
        held = wanted
        at = bisect_right(holders, (placed.start, 1 << 60, 0)) - 1
        while wanted:
            free_from, giver, units = holders[at]
            given = min(units, wanted)
            wanted -= given
            if giver >= 0:
                found.append((giver, i))
            if given == units:
                del holders[at]
            else:
                holders[at] = (free_from, giver, units - given)
            at -= 1
        holders.append((placed.finish, i, held))
    return found


def _last_span(problem: Problem, job: Job, way: Way, bound: int) -> tuple[int, int]:
    """The last start and finish of this work by a clock minute."""
    if way.axis == CLOCK:
        return bound - way.minutes, bound
    along = problem.axes[way.axis]
    end = along.last_position_by(bound)
    if job.unbroken:
        window = max(0, bisect_right(along.marks, end - 1) - 1)
        while end - way.minutes < along.marks[window]:
            end = along.marks[window]
            window -= 1
    return along.start_clock(end - way.minutes), along.end_clock(end)
