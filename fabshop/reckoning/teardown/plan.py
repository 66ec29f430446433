"""The best plan of at most so many sessions, one aim after another."""

from __future__ import annotations

from fabshop.reckoning import solver
from fabshop.reckoning.teardown.choice import Choice, Scope
from fabshop.reckoning.teardown.order import Order
from fabshop.reckoning.teardown.problem import Problem
from fabshop.reckoning.teardown.best import Aim, Best, Budget
from fabshop.reckoning.teardown.timing import Plan, Timing
from fabshop.reckoning.teardown.twin import Twin


def whole_scope(problem: Problem, sessions: int) -> Scope:
    """Every task in any session, every component in each."""
    every = frozenset(range(len(problem.places)))
    return Scope(
        sessions,
        {task: tuple(range(sessions)) for task in range(len(problem.jobs))},
        (every,) * sessions,
    )


def best_plan(problem: Problem, sessions: int, budget: Budget) -> Best:
    order = Order(Choice(problem, whole_scope(problem, sessions)))
    choice, model = order.choice, order.model
    plan: Plan = ()
    aims = []
    first, last = order.begin[0], order.finish[-1]
    stages = [
        ("required", choice.required(), 1),
        ("points", choice.points(), 1),
        ("others", choice.others(), 1),
        ("handling_minutes", choice.handling(), -1),
    ]
    if problem.late_start:
        stages.append(("latest_start", order.minute(first, "first"), 1))
    else:
        stages.append(("finish", order.minute(last, "last"), -1))
    for name, expression, sign in stages:
        if isinstance(expression, int):
            aims.append(Aim(name, expression, expression))
            continue
        if sign > 0:
            model.maximize(expression)
        else:
            model.minimize(expression)
        outcome = solver.run(model, limit_s=budget.left_s)
        if not outcome.is_solved:
            aims.append(Aim(name, 0, outcome.bound))
            continue
        plan = order.plan(outcome)
        aims.append(Aim(name, outcome.best, outcome.bound))
        model.add(expression == outcome.best)
    if problem.late_start and plan:
        late = Timing(problem, plan).latest().begins[0]
        twin = Twin(Choice(problem, whole_scope(problem, sessions)))
        for (name, _, _), aim in zip(stages[:-1], aims):
            expr=dict(required=twin.early.choice.required,points=twin.early.choice.points,others=twin.early.choice.others,handling_minutes=twin.early.choice.handling)[name]()
            if not isinstance(expr,int):
                twin.model.add(expr == aim.reached)
        twin.model.add(twin.late.begin[0] >= late*twin.late.ticks)
        twin.model.minimize(twin.early.minute(twin.early.finish[-1],"f"))
        outcome = solver.run(twin.model, limit_s=budget.left_s)
        if outcome.is_solved:
            plan = twin.early.plan(outcome)
            aims.append(Aim("finish", outcome.best, outcome.bound))
    return Best(plan, tuple(aims))
