"""Plans made by rule in no time: the start that no answer is worse than."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from fabshop.reckoning.cutting.best import Budget, rank
from fabshop.reckoning.cutting.problem import Bar, Plan, Problem

Key = Callable[[int], tuple[float, ...]]


def by_rule(problem: Problem, budget: Budget) -> Plan:
    """The best of first-fit-decreasing under several orders of opening stock.

    The first of them always, the others while there is time.
    """
    kinds = problem.kinds

    def short(k: int) -> tuple[float, ...]:
        return (kinds[k].cost, kinds[k].length_um)

    def long(k: int) -> tuple[float, ...]:
        return (kinds[k].cost, -kinds[k].length_um)

    def cheap(k: int) -> tuple[float, ...]:
        return (kinds[k].cost / max(1, kinds[k].cap), kinds[k].length_um)

    plans = [_shrunk(problem, first_fit(problem, short))]
    for order in (short, long, cheap):
        if budget.left_s > 0:
            plans.append(_shrunk(problem, _bar_by_bar(problem, order)))
        for tightest in (False, True):
            if budget.left_s > 0:
                plan = first_fit(problem, order, tightest=tightest)
                plans.append(_shrunk(problem, plan))
    return max(plans, key=lambda plan: rank(problem, plan))


def first_fit(problem: Problem, order: Key, *, tightest: bool = False) -> Plan:
    """Longest piece first, into the first open bar that takes it, or the tightest."""
    opened: list[tuple[int, list[int]]] = []
    rooms: list[int] = []
    unused = [kind.count for kind in problem.kinds]
    by_order = sorted(range(len(unused)), key=order)
    for index, sort in enumerate(problem.sorts):
        for _ in range(sort.count):
            fits = [b for b, room in enumerate(rooms) if room >= sort.weight]
            if fits:
                bar = min(fits, key=rooms.__getitem__) if tightest else fits[0]
            else:
                new = [
                    k
                    for k in by_order
                    if unused[k] and problem.kinds[k].cap >= sort.weight
                ]
                if not new:
                    break
                unused[new[0]] -= 1
                bar = len(opened)
                opened.append((new[0], [0] * len(problem.sorts)))
                rooms.append(problem.kinds[new[0]].cap)
            opened[bar][1][index] += 1
            rooms[bar] -= sort.weight
    return tuple(Bar(kind, tuple(counts)) for kind, counts in opened)


def _bar_by_bar(problem: Problem, order: Key) -> Plan:
    """Fills one bar after another with the longest pieces that still fit."""
    left = [sort.count for sort in problem.sorts]
    plan = []
    for kind in sorted(range(len(problem.kinds)), key=order):
        for _ in range(problem.kinds[kind].count):
            counts = filled(problem, problem.kinds[kind].cap, left)
            if not any(counts):
                break
            left = [have - n for have, n in zip(left, counts, strict=True)]
            plan.append(Bar(kind, counts))
    return tuple(plan)


def filled(problem: Problem, cap: int, left: Sequence[int]) -> tuple[int, ...]:
    """Of what is left, the longest pieces first, as many as the room takes."""
    counts = []
    for sort, have in zip(problem.sorts, left, strict=True):
        count = min(have, cap // sort.weight)
        counts.append(count)
        cap -= count * sort.weight
    return tuple(counts)


def _shrunk(problem: Problem, plan: Plan) -> Plan:
    """The same bars, each cut from the cheapest, shortest stock that is left for it."""
    unused = [kind.count for kind in problem.kinds]
    for bar in plan:
        unused[bar.kind] -= 1
    moved = []
    for bar in sorted(plan, key=lambda b: b.load(problem)):
        unused[bar.kind] += 1
        load = bar.load(problem)
        kind = min(
            (k for k, n in enumerate(unused) if n and problem.kinds[k].cap >= load),
            key=lambda k: (problem.kinds[k].cost, problem.kinds[k].length_um),
        )
        unused[kind] -= 1
        moved.append(Bar(kind, bar.counts))
    return tuple(moved)
