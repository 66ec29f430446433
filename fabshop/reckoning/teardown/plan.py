"""The best plan of at most so many sessions, one aim after another."""

from __future__ import annotations

from dataclasses import dataclass

from ortools.sat.python import cp_model

from fabshop.reckoning import solver
from fabshop.reckoning.teardown.best import Aim, Best, Budget, Totals, totals_of
from fabshop.reckoning.teardown.by_rule import likely_picks, plan_by_rule
from fabshop.reckoning.teardown.choice import Choice, Sum
from fabshop.reckoning.teardown.last_aim import with_last_aim
from fabshop.reckoning.teardown.order import Order
from fabshop.reckoning.teardown.ordering import (
    cannot_go_together,
    narrowed,
    order_all,
    order_most,
    picks_of,
)
from fabshop.reckoning.teardown.problem import Problem
from fabshop.reckoning.teardown.rough import Rough
from fabshop.reckoning.teardown.scope import scope_of_plan, whole_scope
from fabshop.reckoning.teardown.timing import Plan

AIMS = ("required", "points", "others", "handling_minutes")
"""The aims that do not hang on the times of a plan, in their order."""
_FIRST_S = 0.3
"""A first plan by rule may take this long, however little time there is."""
_NO_TIME_S = 0.02
_LEAST_S = 0.3
"""With less time than this no model of the whole question is begun."""
_ROUNDS = 12
"""How often what cannot be ordered is ruled out, before the full model takes over."""


def best_plan(problem: Problem, sessions: int, budget: Budget, known: Plan) -> Best:
    """The best plan with at most so many sessions; `known` is one with fewer."""
    return _Search(problem, sessions, budget, known).run()


def aim_sum(choice: Choice, name: str) -> Sum:
    """One of AIMS as a sum over a choice."""
    return {
        "required": choice.required,
        "points": choice.points,
        "others": choice.others,
        "handling_minutes": choice.handling,
    }[name]()


def fix_aims(choice: Choice, aims: list[Aim]) -> None:
    """Holds a choice to what the earlier aims have reached."""
    for aim in aims:
        total = aim_sum(choice, aim.name)
        if not isinstance(total, int):
            choice.model.add(total == aim.reached)


def reached(totals: Totals, name: str) -> int:
    """What a plan comes to in one of AIMS."""
    return totals.handling if name == "handling_minutes" else getattr(totals, name)


def rank(totals: Totals) -> tuple[int, int, int, int]:
    """Larger is better, in the order of the aims."""
    return totals.required, totals.points, totals.others, -totals.handling


@dataclass
class _Search:
    """A loose model proposes and bounds, the full one orders and has the last word."""

    problem: Problem
    sessions: int
    budget: Budget
    plan: Plan

    def run(self) -> Best:
        self.scope = whole_scope(self.problem, self.sessions)
        self._consider_plan(self._first_plan())
        if self.budget.left_s < _NO_TIME_S:
            return Best(self.plan, (self._unproven(AIMS[0], None),))
        self.rough = Rough(Choice(self.problem, self.scope))
        self.hint = self.rough.hint(self.plan)
        self.aims: list[Aim] = []
        for name in AIMS:
            aim = self._settle(name)
            self.aims.append(aim)
            if not aim.is_proven:
                self._tidy()
                return Best(self.plan, tuple(self.aims))
            total = aim_sum(self.rough.choice, name)
            if not isinstance(total, int):
                self.rough.model.add(total == aim.reached)
        if not self.plan:
            return Best(self.plan, tuple(self.aims))
        return with_last_aim(
            self.problem, self.scope, self.rough, self.plan, self.aims, self.budget
        )

    def _settle(self, name: str) -> Aim:
        """Proposes, orders and rules out until the aim is proven or time is up."""
        sign = -1 if name == "handling_minutes" else 1
        total = aim_sum(self.rough.choice, name)
        if isinstance(total, int):
            return Aim(name, total, total)
        bound = None
        for _ in range(_ROUNDS):
            outcome = self._propose(total, sign)
            if outcome.is_solved:
                bound = outcome.bound if bound is None else bound
                bound = min(bound * sign, outcome.bound * sign) * sign
            if self._reached(name) == bound:
                return Aim(name, bound, bound)
            if not outcome.is_solved:
                break
            self._consider(outcome)
            if self._reached(name) == bound:
                return Aim(name, bound, bound)
            if not outcome.is_proven or not self._rule_out(outcome):
                break
        return self._close(name, sign, bound)

    def _reached(self, name: str) -> int:
        return reached(totals_of(self.problem, self.plan), name)

    def _propose(self, total: cp_model.LinearExpr, sign: int) -> solver.Outcome:
        model = self.rough.model
        if sign > 0:
            model.maximize(total)
        else:
            model.minimize(total)
        limit = 0.6 * self.budget.left_s
        outcome = solver.run(model, limit_s=limit, linear=2, hint=self.hint)
        if outcome.is_solved:
            self.hint = dict(enumerate(outcome.values))
        return outcome

    def _consider(self, outcome: solver.Outcome) -> None:
        """Orders a proposal, whole or in its best part, and keeps the better plan."""
        picks = picks_of(self.rough.choice, outcome)
        quick = plan_by_rule(self.problem, picks, self.budget)
        self._consider_plan(quick)
        count = sum(step.do == "task" for steps in quick for step in steps)
        handling = self._handling(outcome)
        if count == len(picks) and totals_of(self.problem, quick).handling <= handling:
            return
        if self.budget.left_s < _LEAST_S:
            return
        scope = narrowed(self.rough.choice, outcome)
        plan = order_all(self.problem, scope, self.budget)
        if plan is None and self.budget.left_s < _LEAST_S:
            return
        if plan is None:
            plan = order_most(self.problem, scope, self.budget)
        self._consider_plan(plan)

    def _handling(self, outcome: solver.Outcome) -> int:
        choice, places = self.rough.choice, self.problem.places
        off = [
            places[c].off for (c, _), x in choice.removed.items() if outcome.holds(x)
        ]
        on = [places[c].on for (c, _), x in choice.refitted.items() if outcome.holds(x)]
        sessions = sum(outcome.holds(used) for used in choice.used)
        return self.problem.setup * sessions + sum(off) + sum(on)

    def _first_plan(self) -> Plan:
        """What may well go into one session, and then what does not is dropped."""
        if self.plan:
            return self.plan
        tasks = [task for task, sessions in self.scope.tasks.items() if sessions]
        picks = likely_picks(self.problem, tasks)
        budget = Budget(max(_FIRST_S, 0.5 * self.budget.left_s))
        for share in (1, 2, 4, 8):
            part = picks[: len(picks) // share]
            if plan := plan_by_rule(self.problem, part, budget):
                return plan
        return ()

    def _consider_plan(self, plan: Plan) -> None:
        if self._is_better(plan):
            self.plan = plan

    def _is_better(self, plan: Plan) -> bool:
        ours, theirs = (totals_of(self.problem, p) for p in (self.plan, plan))
        return rank(theirs) > rank(ours)

    def _rule_out(self, outcome: solver.Outcome) -> bool:
        if self.budget.left_s < _LEAST_S:
            return False
        choice = self.rough.choice
        picks = picks_of(choice, outcome)
        core = cannot_go_together(self.problem, self.scope, picks, self.budget)
        if core:
            choice.model.add_bool_or(*(~choice.done[pick] for pick in core))
        return bool(core)

    def _close(self, name: str, sign: int, bound: int | None) -> Aim:
        """The full model, with what is known, has the last word on an aim."""
        if self.budget.left_s < _LEAST_S:
            return self._unproven(name, bound)
        order = Order(Choice(self.problem, self.scope))
        fix_aims(order.choice, self.aims)
        total = aim_sum(order.choice, name)
        assert not isinstance(total, int)
        if bound is not None:
            order.model.add(total <= bound if sign > 0 else total >= bound)
        if sign > 0:
            order.model.maximize(total)
        else:
            order.model.minimize(total)
        hint = order.hint(self.plan)
        outcome = solver.run(order.model, limit_s=0.8 * self.budget.left_s, hint=hint)
        if outcome.is_solved:
            plan = order.plan(outcome)
            if self._is_better(plan):
                self.plan = plan
            if bound is None:
                bound = outcome.bound
            bound = min(bound * sign, outcome.bound * sign) * sign
        if outcome.ended is solver.Ended.IMPOSSIBLE:
            bound = self._reached(name)  # Nothing is better than what is known.
        if bound is None:
            bound = self._widest(name)
        return Aim(name, self._reached(name), bound)

    def _unproven(self, name: str, bound: int | None) -> Aim:
        widest = self._widest(name) if bound is None else bound
        return Aim(name, self._reached(name), widest)

    def _widest(self, name: str) -> int:
        """What no plan can pass, where the solver had no time to say anything."""
        jobs = [self.problem.jobs[task] for task, k in self.scope.tasks.items() if k]
        return {
            "required": sum(job.required for job in jobs),
            "points": sum(max(job.points, 0) for job in jobs),
            "others": sum(not job.required for job in jobs),
            "handling_minutes": 0,
        }[name]

    def _tidy(self) -> None:
        """Where time ran out: the same tasks with less handling, if it is quick."""
        if not self.plan or self.budget.left_s < _LEAST_S:
            return
        scope = scope_of_plan(self.problem, self.plan)
        order = Order(Choice(self.problem, scope))
        for literal in order.choice.taken.values():
            order.model.add(literal == 1)
        total = order.choice.handling()
        if isinstance(total, int):
            return
        order.model.minimize(total)
        hint = order.hint(self.plan)
        outcome = solver.run(order.model, limit_s=0.7 * self.budget.left_s, hint=hint)
        if outcome.is_solved and self._is_better(order.plan(outcome)):
            self.plan = order.plan(outcome)
