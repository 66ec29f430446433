"""Too little stock for every piece, or so it seems: what is cut and what is not."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from fabshop.reckoning.cutting.assign import Assignment
from fabshop.reckoning.cutting.best import Best, Budget, rank
from fabshop.reckoning.cutting.problem import Plan, Problem

_EFFORT = 4.0
_MOST_CELLS = 20_000


def scarce_plan(problem: Problem, start: Plan, budget: Budget) -> Best:
    """The aims one after another on one model, each fixed before the next."""
    reached = rank(problem, start)
    longest = max(kind.length_um for kind in problem.kinds)
    free = (most_pieces(problem), 0, 0, longest)
    bars = [
        kind
        for kind, stock in enumerate(problem.kinds)
        for _ in range(min(stock.count, problem.wanted))
    ]
    if len(bars) * len(problem.sorts) > _MOST_CELLS:
        return Best(start, free)
    model = Assignment(problem, bars)
    aims: list[Callable[[], Any]] = [
        model.number_cut,
        lambda: -1 * model.cost(),
        lambda: -1 * model.length(),
        model.longest_drop,
    ]
    plan, bounds = start, list(free)
    proven = True
    for number, aim in enumerate(aims):
        expression = aim()
        model.model.maximize(expression)
        found = model.solve(plan, limit_s=budget.left_s, effort=_EFFORT)
        if found.is_solved:
            candidate = model.plan(found)
            if rank(problem, candidate)[: number + 1] >= reached[: number + 1]:
                plan = candidate
        reached = rank(problem, plan)
        if proven:
            told = reached[number] if found.is_proven else free[number]
            bounds[number] = min(free[number], max(told, reached[number]))
            if found.is_solved and not found.is_proven:
                bounds[number] = min(bounds[number], found.bound)
        proven = proven and found.is_proven
        if number == 0 and reached[0] == problem.wanted:
            break
        model.model.add(expression >= reached[number])
    return Best(plan, (bounds[0], bounds[1], bounds[2], bounds[3]))


def most_pieces(problem: Problem) -> int:
    """No more are cut than the shortest ones that all stock together holds."""
    room = sum(kind.cap * kind.count for kind in problem.kinds)
    cut = 0
    for sort in reversed(problem.sorts):
        count = min(sort.count, room // sort.weight)
        cut, room = cut + count, room - count * sort.weight
    return cut
