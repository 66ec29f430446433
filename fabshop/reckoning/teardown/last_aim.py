"""The last aim: the earliest finish, or the latest start and then the finish."""

from __future__ import annotations

from collections.abc import Callable

from ortools.sat.python import cp_model

from fabshop.reckoning import solver
from fabshop.reckoning.teardown.best import Aim, Best, Budget, finish_of
from fabshop.reckoning.teardown.choice import Choice, Scope
from fabshop.reckoning.teardown.order import Order
from fabshop.reckoning.teardown.ordering import narrowed
from fabshop.reckoning.teardown.problem import Problem
from fabshop.reckoning.teardown.rough import Rough
from fabshop.reckoning.teardown.scope import scope_of_plan
from fabshop.reckoning.teardown.timing import Plan, Timing
from fabshop.reckoning.teardown.twin import Twin

_TWIN_STEPS = 160
"""Beyond so many steps two schedules in one model are not worth their time."""


def latest_start_of(problem: Problem, plan: Plan) -> int:
    """The last worked minute at which the first session of this order can begin."""
    return Timing(problem, plan).latest().begins[0]


def with_last_aim(
    problem: Problem,
    scope: Scope,
    rough: Rough,
    plan: Plan,
    aims: list[Aim],
    budget: Budget,
) -> Best:
    """The plan bettered in the last aim, every earlier one held and proven."""
    last = _LastAim(problem, scope, rough, aims, budget)
    if problem.late_start:
        return last.latest_start(plan)
    return last.earliest_finish(plan)


class _LastAim:
    def __init__(
        self,
        problem: Problem,
        scope: Scope,
        rough: Rough,
        aims: list[Aim],
        budget: Budget,
    ) -> None:
        self.problem = problem
        self.scope = scope
        self.rough = rough
        self.aims = aims
        self.budget = budget

    def earliest_finish(self, plan: Plan) -> Best:
        """The plan that ends first."""
        plan, aim = self._best("finish", plan, -1, finish_of, self._finish)
        return Best(plan, (*self.aims, aim))

    def latest_start(self, plan: Plan) -> Best:
        """The plan that can wait longest, and among those the one that ends first."""
        plan, aim = self._best(
            "latest_start", plan, 1, latest_start_of, lambda order: order.begin[0]
        )
        if not aim.is_proven:
            return Best(plan, (*self.aims, aim))
        plan, then = self._finish_of_those(plan, aim.reached)
        return Best(plan, (*self.aims, aim, then))

    @staticmethod
    def _finish(order: Order | Rough) -> cp_model.IntVar:
        return order.finish[-1]

    def _best(
        self,
        name: str,
        plan: Plan,
        sign: int,
        worth: Callable[[Problem, Plan], int],
        tick: Callable[[Order | Rough], cp_model.IntVar],
    ) -> tuple[Plan, Aim]:
        """Bounded by the rough model, reached by an order, closed by the full one."""
        bound, proposal = self._bound(tick(self.rough), sign)
        reached = worth(self.problem, plan)
        for scope in self._widening(plan, proposal):
            if reached == bound:
                break
            order = self._full(scope, plan)
            minute = order.minute(tick(order), name)
            if bound is not None:
                order.model.add(minute <= bound if sign > 0 else minute >= bound)
            outcome = self._run(order.model, minute, sign, order.hint(plan), scope)
            if outcome.is_solved:
                found = order.plan(outcome)
                if worth(self.problem, found) * sign > reached * sign:
                    plan, reached = found, worth(self.problem, found)
            if scope is self.scope and outcome.is_solved:
                bound = outcome.bound
        return plan, Aim(name, reached, reached if bound is None else bound)

    def _widening(self, plan: Plan, proposal: Scope | None) -> list[Scope]:
        """What the plan does, what the loose model proposes, and then everything."""
        scopes: list[Scope] = []
        for scope in (scope_of_plan(self.problem, plan), proposal):
            if scope is not None and scope not in (self.scope, *scopes):
                scopes.append(scope)
        return [*scopes, self.scope]

    def _bound(
        self, minute: cp_model.IntVar, sign: int
    ) -> tuple[int | None, Scope | None]:
        model = self.rough.model
        if sign > 0:
            model.maximize(minute)
        else:
            model.minimize(minute)
        outcome = solver.run(model, limit_s=0.3 * self.budget.left_s, linear=2)
        if not outcome.is_solved:
            return None, None
        return outcome.bound, narrowed(self.rough.choice, outcome)

    def _full(self, scope: Scope, plan: Plan) -> Order:
        order = Order(Choice(self.problem, scope))
        self._hold(order.choice)
        return order

    def _hold(self, choice: Choice) -> None:
        held = (choice.required, choice.points, choice.others, choice.handling)
        for aim, total in zip(self.aims, (each() for each in held), strict=True):
            if not isinstance(total, int):
                choice.model.add(total == aim.reached)

    def _run(
        self,
        model: cp_model.CpModel,
        minute: cp_model.IntVar,
        sign: int,
        hint: dict[int, int],
        scope: Scope,
    ) -> solver.Outcome:
        if sign > 0:
            model.maximize(minute)
        else:
            model.minimize(minute)
        share = 0.9 if scope is self.scope else 0.3
        return solver.run(model, limit_s=share * self.budget.left_s, hint=hint)

    def _finish_of_those(self, plan: Plan, latest: int) -> tuple[Plan, Aim]:
        """Among the orders that can wait until `latest`, the one that ends first."""
        reached = finish_of(self.problem, plan)
        bound, _ = self._bound(self.rough.finish[-1], -1)
        for scope in self._widening(plan, None):
            if reached == bound:
                break
            twin = Twin(Choice(self.problem, scope))
            if len(twin.early.present) > _TWIN_STEPS:
                break
            self._hold(twin.early.choice)
            twin.model.add(twin.late.begin[0] >= latest * twin.late.ticks)
            minute = twin.early.minute(twin.early.finish[-1], "finish")
            if bound is not None:
                twin.model.add(minute >= bound)
            hint = twin.early.hint(plan)
            outcome = self._run(twin.model, minute, -1, hint, scope)
            if outcome.is_solved:
                found = twin.early.plan(outcome)
                if finish_of(self.problem, found) < reached:
                    plan, reached = found, finish_of(self.problem, found)
                if scope is self.scope:
                    bound = outcome.bound
        return plan, Aim("finish", reached, reached if bound is None else bound)
