"""Puts what was chosen into an order, or says which choices cannot go together."""

from __future__ import annotations

from fabshop.reckoning import solver
from fabshop.reckoning.teardown.best import Budget
from fabshop.reckoning.teardown.choice import Choice, Scope
from fabshop.reckoning.teardown.order import Order
from fabshop.reckoning.teardown.problem import Problem
from fabshop.reckoning.teardown.scope import places_off_at_first
from fabshop.reckoning.teardown.timing import Plan

Pick = tuple[int, int]
"""A task and the session it is in."""

_EFFORT = 4.0
"""Solver units for one order; a choice that takes longer is left to the full model."""
_CHECK_EFFORT = 0.3


def picks_of(choice: Choice, outcome: solver.Outcome) -> list[Pick]:
    """The tasks that a solution does, with their sessions."""
    return [pick for pick, literal in choice.done.items() if outcome.holds(literal)]


def narrowed(choice: Choice, outcome: solver.Outcome) -> Scope:
    """Only the tasks of a solution, and only what it takes off in each session."""
    off = places_off_at_first(choice.problem)
    places = [set(off) for _ in choice.sessions]
    for (place, k), literal in choice.removed.items():
        if outcome.holds(literal):
            places[k].add(place)
    return Scope(
        len(choice.sessions),
        {task: (k,) for task, k in picks_of(choice, outcome)},
        tuple(map(frozenset, places)),
    )


def order_all(problem: Problem, scope: Scope, budget: Budget) -> Plan | None:
    """Some order of every task in the scope; None where none was found."""
    order = Order(Choice(problem, scope))
    for literal in order.choice.taken.values():
        order.model.add(literal == 1)
    outcome = solver.run(order.model, limit_s=budget.left_s, effort=_EFFORT)
    return order.plan(outcome) if outcome.is_solved else None


def order_most(problem: Problem, scope: Scope, budget: Budget) -> Plan:
    """An order of the most that counts among the tasks in the scope."""
    order = Order(Choice(problem, scope))
    jobs = problem.jobs
    # Required tasks outweigh all points, a point outweighs all other tasks.
    point = len(jobs) + 1
    required = point * (1 + sum(abs(job.points) for job in jobs))
    worth = sum(
        literal * (jobs[task].points * point + (required if jobs[task].required else 1))
        for task, literal in order.choice.taken.items()
    )
    if isinstance(worth, int):
        return ()
    order.model.maximize(worth)
    outcome = solver.run(order.model, limit_s=budget.left_s, effort=_EFFORT)
    return order.plan(outcome) if outcome.is_solved else ()


def cannot_go_together(
    problem: Problem, scope: Scope, picks: list[Pick], budget: Budget
) -> list[Pick]:
    """A few of the picks that no plan can hold at once; none where none was shown.

    All other tasks stay free: one of them may fit, or come before, what is picked.
    """
    order = Order(Choice(problem, scope))

    def core(wanted: list[Pick]) -> list[Pick]:
        literals = tuple(order.choice.done[pick] for pick in wanted)
        outcome = solver.run(
            order.model, limit_s=budget.left_s, effort=_CHECK_EFFORT, assume=literals
        )
        if outcome.ended is not solver.Ended.IMPOSSIBLE:
            return []
        return [wanted[index] for index in outcome.core]

    found = core(picks)
    for pick in list(found):
        if len(found) > 1 and pick in found:
            found = core([other for other in found if other != pick]) or found
    return found
