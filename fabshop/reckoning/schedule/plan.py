"""The best schedule: the aims taken one after another, each fixed before the next."""

from __future__ import annotations

from typing import Any

from fabshop.reckoning import solver
from fabshop.reckoning.schedule.best import Best, Budget, Rank, finish_of, rank_of
from fabshop.reckoning.schedule.bound import earliest_finish
from fabshop.reckoning.schedule.breed import Breed
from fabshop.reckoning.schedule.by_rule import plan_by_rule
from fabshop.reckoning.schedule.model import Model
from fabshop.reckoning.schedule.more import with_gaps_filled, with_more_done
from fabshop.reckoning.schedule.place import Plan, in_order, placed_in_order
from fabshop.reckoning.schedule.problem import Problem
from fabshop.reckoning.schedule.scope import Scope, narrowed, scope_of

_RULE_S, _RULE_SHARE = 0.8, 0.1
_ROUGH_S, _ROUGH_EFFORT = 1.0, 0.5
_ROUGH_SHARE = 0.35
"""Of all the time: only the ways that the hours can hold, in some order."""
_FIRST_SHARE, _FIRST_EFFORT = 0.25, 2.0
"""Of all the time: the solver's first go at an aim, which settles most questions."""
_BREED_SHARE, _BREED_LAST_SHARE = 0.3, 0.7
"""Of the time left after that, once; more where only the finish is still open."""
_LAST_SHARE = 0.6
"""Of the time left then: the solver's second go; the rest is for later aims."""
_STEPS_DOWN = 8
"""Bounds asked for, one less each time, before it is left to the solver to choose."""
FINISH = 3


def best_plan(problem: Problem, budget: Budget, kept: Plan | None = None) -> Best:
    """The best plan found in the time, and how far it is proven.

    `kept` is a plan made before: where none is better, it stays.
    """
    scope = scope_of(problem)
    aims = _Aims(problem, scope, budget)
    if kept:
        aims.keep(kept)
    return aims.best()


class _Aims:
    def __init__(self, problem: Problem, scope: Scope, budget: Budget) -> None:
        self.problem, self.scope, self.budget = problem, scope, budget
        rule_s = min(_RULE_S, _RULE_SHARE * budget.left_s)
        self.ways, self.order, self.plan = plan_by_rule(
            problem, scope, Budget(rule_s, budget.steady)
        )
        budget.spend(rule_s)
        self.rank = rank_of(problem, self.plan)
        self.has_bred = False
        self.rough: dict[int, int] = {}

    def keep(self, kept: Plan) -> None:
        """A plan made before, as far as it can still be done, unless it is worse."""
        ways = {i: p.way for i, p in kept.items() if p.way in self.scope.ways[i]}
        order = [float(self.problem.horizon)] * len(self.problem.jobs)
        for i in ways:
            order[i] = float(kept[i].start)
        plan = placed_in_order(self.problem, in_order(self.problem, ways, order))
        rank = rank_of(self.problem, plan)
        if rank >= self.rank:
            self.ways, self.order = ways, order
            self.plan, self.rank = plan, rank

    def best(self) -> Best:
        """Each aim as far as it goes; past one not proven, plans are only bettered."""
        most = self._at_most()
        bounds = [*most[:FINISH], 0]
        is_proven = True
        for aim in range(FINISH + 1):
            if aim == FINISH:
                surely = self._surely(bounds, most) if is_proven else set()
                over = earliest_finish(self.problem, self.scope, surely)
                if is_proven and finish_of(self.plan) > over:
                    over = max(over, self._least_work_is_over())
                bounds[FINISH] = -over
            if self.rank[aim] < bounds[aim]:
                before = self.rank[:aim]
                bounds[aim] = self._raised(aim, bounds[aim])
                if self.rank[:aim] != before:
                    # Bettered in an earlier aim, which was not proven.
                    bounds[aim] = max(bounds[aim], self.rank[aim])
            is_proven = is_proven and self.rank[aim] == bounds[aim]
        self.plan = with_gaps_filled(self.problem, self.scope, self.plan)
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

    def _raised(self, aim: int, bound: int) -> int:
        """Betters one aim as far as it goes; the bound that then stands."""
        if aim < FINISH:
            bound = self._rough_bound(aim, bound)
        first_s = min(_FIRST_SHARE * self.budget.limit_s, self.budget.left_s)
        if aim < FINISH and self.rank[aim] < bound and self.rough:
            rough_s = min(_ROUGH_SHARE * self.budget.limit_s, self.budget.left_s)
            self._by_rough_ways(aim, bound, rough_s)
        if aim < FINISH and self.rank[aim] < bound:
            bound = self._straight_to_it(aim, bound, self.budget.part(first_s))
        if aim == FINISH:
            bound = self._solved(aim, bound, first_s, _FIRST_EFFORT)
        if self.rank[aim] < bound and not self.has_bred:
            part = _BREED_LAST_SHARE if aim == FINISH else _BREED_SHARE
            self._breed(self.budget.part(part * self.budget.left_s))
        if self.rank[aim] < bound:
            share = 1.0 if aim == FINISH else _LAST_SHARE
            left_s = share * self.budget.left_s
            bound = self._solved(aim, bound, left_s, solver.NEVER_PROVEN)
        return bound

    def _straight_to_it(self, aim: int, bound: int, budget: Budget) -> int:
        """Asks for the bound itself: what must be is settled sooner than chosen."""
        for asked in range(bound, max(self.rank[aim], bound - _STEPS_DOWN), -1):
            model = Model(self.problem, self.scope)
            self._keep(model, aim)
            model.model.add(self._aims_of(model)[aim] >= asked)
            outcome = budget.run(
                model.model,
                limit_s=budget.left_s,
                effort=_FIRST_EFFORT,
                linear=0,
                probe=False,
                hint=model.hint(self.plan),
            )
            if outcome.is_solved:
                self._take(model.plan(outcome))
                return asked
            if outcome.ended is not solver.Ended.IMPOSSIBLE:
                return asked
        return max(self.rank[aim], bound - _STEPS_DOWN)

    def _breed(self, budget: Budget) -> None:
        self.has_bred = True
        breed = Breed(self.problem, self.scope)
        breed.add_plan(self.plan)
        breed.seed(self.ways, self.order, budget)
        breed.run(budget.part(budget.left_s))
        budget.spend(budget.left_s if budget.steady else 0.0)
        self._take(breed.best.plan)

    def _rough_bound(self, aim: int, bound: int) -> int:
        """Ways, stores and hours alone, without times: what they forbid cannot be."""
        model = Model(self.problem, self.scope, is_rough=True)
        self._aim_at(model, aim, bound)
        limit_s = min(_ROUGH_S, 0.1 * self.budget.left_s)
        outcome = self.budget.run(model.model, limit_s=limit_s, effort=_ROUGH_EFFORT)
        if not outcome.is_solved:
            # Without a solution the solver's bound means nothing.
            return bound
        self.rough = self._easiest_ways(aim, outcome.best, limit_s)
        return min(bound, max(outcome.bound, self.rank[aim]))

    def _easiest_ways(self, aim: int, reached: int, limit_s: float) -> dict[int, int]:
        """Of the ways that the hours can hold, those with the least work."""
        model = Model(self.problem, self.scope, is_rough=True)
        self._keep(model, aim)
        model.model.add(self._aims_of(model)[aim] >= reached)
        model.model.minimize(
            sum(
                self.problem.jobs[i].ways[n].minutes * taken
                for (i, n), taken in model.taken.items()
                if self.problem.jobs[i].ways[n].uses
            )
        )
        outcome = self.budget.run(model.model, limit_s=limit_s, effort=_ROUGH_EFFORT)
        if not outcome.is_solved:
            return {}
        return {i: n for (i, n), taken in model.taken.items() if outcome.holds(taken)}

    def _least_work_is_over(self) -> int:
        """When the least work that does as much can be over, by anybody's hours."""
        problem, over = self.problem, 0
        for resource, capacity in enumerate(problem.capacities):
            model = Model(problem, self.scope, is_rough=True)
            self._keep(model, FINISH)
            model.model.minimize(
                sum(
                    dict(problem.jobs[i].ways[n].uses).get(resource, 0)
                    * problem.jobs[i].ways[n].minutes
                    * taken
                    for (i, n), taken in model.taken.items()
                )
            )
            limit_s = min(_ROUGH_S, 0.05 * self.budget.left_s)
            outcome = self.budget.run(
                model.model, limit_s=limit_s, effort=_ROUGH_EFFORT
            )
            along = problem.axes[problem.resource_axes[resource]]
            if outcome.is_solved and outcome.bound > 0:
                position = -(-outcome.bound // capacity)
                over = max(over, along.end_clock(min(position, along.length)))
        return over

    def _by_rough_ways(self, aim: int, bound: int, limit_s: float) -> None:
        """Puts the ways that the hours can hold in order, if they can be."""
        order = [float(head) for head in self.scope.heads]
        self._take(
            placed_in_order(self.problem, in_order(self.problem, self.rough, order))
        )
        scope = narrowed(self.scope, self.rough)
        model = Model(self.problem, scope)
        self._keep(model, aim)
        model.model.add(self._aims_of(model)[aim] >= bound)
        outcome = self.budget.run(
            model.model,
            limit_s=limit_s,
            effort=_FIRST_EFFORT,
            linear=0,
            probe=False,
            stop_at_first=True,
        )
        if outcome.is_solved:
            self._take(model.plan(outcome))

    def _aim_at(self, model: Model, aim: int, bound: int) -> None:
        aims = self._aims_of(model)
        self._keep(model, aim)
        if aim == FINISH:
            model.model.add(model.finish >= -bound)
            model.model.minimize(model.finish)
        else:
            model.model.add(aims[aim] <= bound)
            model.model.maximize(aims[aim])

    def _keep(self, model: Model, aim: int) -> None:
        """What is reached of the aims before this one stays reached."""
        for earlier, reached in enumerate(self._aims_of(model)[:aim]):
            model.model.add(reached >= self.rank[earlier])

    @staticmethod
    def _aims_of(model: Model) -> tuple[Any, ...]:
        return (model.pinned, model.required, model.points)

    def _solved(self, aim: int, bound: int, limit_s: float, effort: float) -> int:
        if limit_s <= 0:
            return bound
        problem, scope = self.problem, self.scope
        if aim == FINISH:
            problem = problem.within(finish_of(self.plan))
            scope = scope_of(problem)
        model = Model(problem, scope)
        self._aim_at(model, aim, bound)
        outcome = self.budget.run(
            model.model,
            limit_s=limit_s,
            effort=effort,
            linear=0,
            probe=False,
            hint=model.hint(self.plan),
        )
        if outcome.ended is solver.Ended.IMPOSSIBLE:
            raise AssertionError("the plan in hand is one of this model's")
        if not outcome.is_solved:
            return bound
        self._take(model.plan(outcome))
        found = -outcome.bound if aim == FINISH else outcome.bound
        return min(bound, max(found, self.rank[aim]))

    def _take(self, plan: Plan) -> None:
        plan = with_more_done(self.problem, self.scope, plan)
        rank = rank_of(self.problem, plan)
        if rank > self.rank:
            self.plan, self.rank = plan, rank
