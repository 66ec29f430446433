"""How late a session can start when its own steps may be done in any order."""

from __future__ import annotations

from fabshop.reckoning import solver
from fabshop.reckoning.teardown.best import Budget
from fabshop.reckoning.teardown.choice import Choice
from fabshop.reckoning.teardown.order import Order
from fabshop.reckoning.teardown.problem import Problem
from fabshop.reckoning.teardown.scope import scope_of_plan
from fabshop.reckoning.teardown.timing import Plan, Timing, step_minutes, ticks_of

_EFFORT = 0.5
"""Solver units for one session: some ten times what a full evening's work takes."""


def latest_start_any_order(
    problem: Problem, plan: Plan, session: int, budget: Budget
) -> int:
    """The last worked minute at which the session can begin.

    The sessions before it keep their times, those after it their order and their
    latest starts. Where time runs out it is the best found, never less than the
    latest start of the order given.
    """
    timing = Timing(problem, plan)
    early, late = timing.earliest(), timing.latest()
    assert early is not None
    known = late.begins[session]
    minutes = problem.setup + sum(step_minutes(problem, s) for s in plan[session])
    follows = session + 1 < len(plan)
    until = late.begins[session + 1] if follows else problem.axis.length
    if known == until - minutes:
        return known  # Nothing waits: no order can begin later.
    order = Order(Choice(problem, scope_of_plan(problem, plan)))
    present = {step for steps in plan for step in steps}
    for step, literal in order.present.items():
        order.model.add(literal == (step in present))
    hint = {}
    ticks = ticks_of(problem, plan, late, order.ticks)
    fixed = {
        **ticks_of(problem, plan[:session], early, order.ticks),
        **{step: tick for step, tick in ticks.items() if step.session > session},
    }
    for step, tick in fixed.items():
        order.model.add(order.start[step] == tick)
    if follows:
        first = problem.setup * order.ticks
        at = ticks[plan[session + 1][0]] - first
        order.model.add(order.begin[session + 1] <= at)
    for step, tick in ticks.items():
        hint[order.start[step].index] = tick
    begin = order.minute(order.begin[session], "begin")
    order.model.add(begin >= known)
    order.model.maximize(begin)
    outcome = solver.run(order.model, limit_s=budget.left_s, effort=_EFFORT, hint=hint)
    return max(known, outcome.best) if outcome.is_solved else known
