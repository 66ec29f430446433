"""For a shop that would rather use its drops up: the longest drop before the length."""

from __future__ import annotations

from fabshop.reckoning.cutting.assign import Assignment
from fabshop.reckoning.cutting.best import Best, Budget, longest_drop_um, rank
from fabshop.reckoning.cutting.problem import Plan, Problem

_EFFORT = 3.0
_MOST_CELLS = 4_000


def drop_first(problem: Problem, best: Best, budget: Budget) -> Best:
    """A plan as good in pieces and cost, that keeps as long a single drop as it can.

    What costs nothing is a drop already: it counts whole where it is not opened.
    Among plans that keep as much it opens the least length that is found. The bound
    on the length is then the plan's own: it is no aim before the drop any more.
    """
    plan, bounds = best.plan, best.bounds
    reached = rank(problem, plan)
    longest = max((kind.length_um for kind in problem.kinds), default=0)
    if not plan or reached[:2] != bounds[:2]:
        return Best(plan, (bounds[0], bounds[1], reached[2], longest))
    bars = [
        kind
        for kind, stock in enumerate(problem.kinds)
        for _ in range(min(stock.count, problem.wanted))
    ]
    if len(bars) * len(problem.sorts) > _MOST_CELLS:
        return Best(plan, (*reached[:3], longest))
    model = Assignment(problem, bars)
    model.model.add(model.number_cut() >= reached[0])
    model.model.add(model.cost() <= -reached[1])
    drop = model.longest_drop(with_free=True)
    model.model.maximize(drop)
    found = model.solve(plan, limit_s=budget.left_s, effort=_EFFORT)
    if found.is_solved:
        plan = _better(problem, plan, model.plan(found))
        longest = found.bound
    is_proven = found.is_proven or longest <= kept_um(problem, plan)
    model.model.add(drop >= kept_um(problem, plan))
    model.model.minimize(model.length())
    shorter = model.solve(plan, limit_s=budget.left_s, effort=_EFFORT / 2)
    if shorter.is_solved:
        plan = _better(problem, plan, model.plan(shorter))
    done = rank(problem, plan)
    bound = done[3] if is_proven else max(longest, done[3])
    return Best(plan, (done[0], done[1], done[2], bound))


def kept_um(problem: Problem, plan: Plan) -> int:
    """The longest single drop after the plan: left of a bar, or not opened at all."""
    opened = [0] * len(problem.kinds)
    for bar in plan:
        opened[bar.kind] += 1
    whole = (
        kind.length_um - problem.trim_um
        for kind, count in zip(problem.kinds, opened, strict=True)
        if not kind.cost and count < kind.count
    )
    return max(longest_drop_um(problem, plan), max(whole, default=0))


def _better(problem: Problem, plan: Plan, other: Plan) -> Plan:
    """The one with the longer drop, of equal ones that which opens less."""

    def worth(one: Plan) -> tuple[int, int, int, int]:
        pieces, cost, length, _ = rank(problem, one)
        return pieces, cost, kept_um(problem, one), length

    return other if worth(other) > worth(plan) else plan
