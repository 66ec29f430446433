"""Bars filled one after another as full as can be, over and over by chance."""

from __future__ import annotations

import random
from collections.abc import Callable, Sequence

from fabshop.reckoning.cutting.best import Budget
from fabshop.reckoning.cutting.knapsack import MOST_CELLS, Knapsack, grid_of
from fabshop.reckoning.cutting.problem import Bar, Plan, Problem
from fabshop.reckoning.solver import SEED

_MOST_BARS = 150
_FILLINGS = 1_500
"""Bars filled in all, however many tries that is."""


def lucky(
    problem: Problem,
    bars: Sequence[int],
    budget: Budget,
    *,
    tries: int,
    light: int | None = None,
    room: int = 0,
    keep: Callable[[Plan], None] | None = None,
) -> Plan | None:
    """Every piece on these bars, where chance finds it; the same for the same seed.

    With `light`, one bar of that kind is filled last and carries `room` at most.
    Every try is handed to `keep`, whether or not it carries all.
    Long pieces count for a little more than their length: short ones fill up later.
    """
    grid = grid_of(problem)
    chance = random.Random(SEED)
    each = [kind for kind, count in enumerate(bars) for _ in range(count)]
    if not each or len(each) > _MOST_BARS:
        return None
    heaviest = max(grid.heavy)
    cell = 1 + max(kind.cap for kind in problem.kinds) // MOST_CELLS
    if light is not None:
        each.remove(light)
    for _ in range(min(tries, 1 + _FILLINGS // (1 + len(each)))):
        if budget.left_s <= 0:
            return None
        order = sorted(each, key=lambda k: grid.caps[k] * chance.uniform(0.3, 1))
        favour = chance.choice((0.0, 0.05, 0.2, 0.5))
        left, plan = list(grid.counts), []
        todo = [(kind, grid.caps[kind]) for kind in order]
        if light is not None:
            todo.append((light, room // cell))
        for kind, cap in todo:
            worth = [
                int(1000 * w * (1 + favour * w / heaviest * chance.uniform(0.5, 1)))
                for w in grid.heavy
            ]
            counts = Knapsack(grid.heavy, left, worth, cap).pattern(cap)
            left = [have - n for have, n in zip(left, counts, strict=True)]
            plan.append(Bar(kind, counts))
        if keep is not None:
            keep(tuple(plan))
        # A bar left whole is no light one.
        is_light = light is None or any(plan[-1].counts)
        if is_light and not any(left):
            return tuple(bar for bar in plan if any(bar.counts))
    return None
