"""The best schedule: the aims taken one after another, each fixed before the next."""

from __future__ import annotations

from fabshop.reckoning import solver
from fabshop.reckoning.schedule.best import Best, Budget, Rank, finish_of, rank_of
from fabshop.reckoning.schedule.bound import earliest_finish
from fabshop.reckoning.schedule.by_rule import plan_by_rule
from fabshop.reckoning.schedule.model import Model
from fabshop.reckoning.schedule.place import Plan
from fabshop.reckoning.schedule.problem import Problem
from fabshop.reckoning.schedule.scope import Scope, scope_of

_RULE_SHARE = 0.15
_RULE_S = 1.0


def best_plan(problem: Problem, budget: Budget) -> Best:
    """The best plan found in the time, and how far it is proven."""
    scope = scope_of(problem)
    rule_s = min(_RULE_S, _RULE_SHARE * budget.left_s)
    plan = plan_by_rule(problem, scope, Budget(rule_s))
    return _Aims(problem, scope, plan, budget).best()


class _Aims:
    def __init__(
        self, problem: Problem, scope: Scope, plan: Plan, budget: Budget
    ) -> None:
        self.problem, self.scope, self.budget = problem, scope, budget
        self.plan = plan
        self.rank = rank_of(problem, plan)

    def best(self) -> Best:
        """Each aim as far as it goes; what follows one not proven is left as it is."""
        most = self._at_most()
        bounds = [*most[:3], self.rank[3]]
        for aim in range(4):
            if aim == 3:
                surely = self._surely(bounds, most)
                bounds[3] = -earliest_finish(self.problem, self.scope, surely)
            if self.rank[aim] < bounds[aim]:
                bounds[aim] = self._raise(aim, bounds[aim])
            if self.rank[aim] != bounds[aim]:
                break
        return Best(self.plan, self.rank, (bounds[0], bounds[1], bounds[2], bounds[3]))

    def _at_most(self) -> Rank:
        """What can be reached at all of each aim, whatever the others."""
        jobs, scope = self.problem.jobs, self.scope
        return (
            sum(
                job.pinned is not None and scope.is_open(i)
                for i, job in enumerate(jobs)
            ),
            sum(
                job.required and bool(scope.ways[i] or scope.sparers[i])
                for i, job in enumerate(jobs)
            ),
            sum(
                max(0, max((job.ways[n].points for n in scope.ways[i]), default=0))
                for i, job in enumerate(jobs)
            ),
            0,
        )

    def _surely(self, bounds: list[int], most: Rank) -> set[int]:
        """What every plan does that is as good in the aims before the finish."""
        jobs, scope = self.problem.jobs, self.scope
        found = set()
        for i, job in enumerate(jobs):
            if job.pinned is not None or (
                job.required and not scope.sparers[i] and bounds[1] == most[1]
            ):
                found.add(i)
            best = max((job.ways[n].points for n in scope.ways[i]), default=0)
            if best > 0 and bounds[2] == most[2]:
                found.add(i)
        return {i for i in found if scope.is_open(i)}

    def _raise(self, aim: int, bound: int) -> int:
        """Betters one aim as far as it goes; the bound that then stands."""
        if self.budget.left_s <= 0:
            return bound
        problem = self.problem
        scope = self.scope
        if aim == 3:
            problem = problem.within(finish_of(self.plan))
            scope = scope_of(problem)
        model = Model(problem, scope)
        aims = (model.pinned, model.required, model.points)
        for earlier in range(min(aim, 3)):
            model.model.add(aims[earlier] >= self.rank[earlier])
        if aim == 3:
            model.model.add(model.finish >= -bound)
            model.model.minimize(model.finish)
        else:
            model.model.add(aims[aim] <= bound)
            model.model.maximize(aims[aim])
        outcome = solver.run(
            model.model, limit_s=self.budget.left_s, hint=model.hint(self.plan)
        )
        if outcome.is_solved:
            plan = model.plan(outcome)
            rank = rank_of(self.problem, plan)
            if rank > self.rank:
                self.plan, self.rank = plan, rank
        found = -outcome.bound if aim == 3 else outcome.bound
        if outcome.ended is solver.Ended.IMPOSSIBLE:
            raise AssertionError("the plan in hand is one of this model's")
        return min(bound, max(found, self.rank[aim]))
