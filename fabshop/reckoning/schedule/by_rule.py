"""A first schedule in no time: priority rules, then small changes that better it."""

from __future__ import annotations

import random
from collections.abc import Callable

from fabshop.reckoning.schedule.best import Budget, Rank, rank_of, tries_in
from fabshop.reckoning.schedule.place import Plan, in_order, placed_in_order
from fabshop.reckoning.schedule.problem import Problem
from fabshop.reckoning.schedule.scope import Scope

_SEED = 20270903
Ways = dict[int, int]
"""The way wanted of each activity that is to be done."""


def plan_by_rule(
    problem: Problem, scope: Scope, budget: Budget
) -> tuple[Ways, list[float], Plan]:
    """The best of several rules, bettered by changes of way and order.

    With the ways that were wanted and the order it was made in.
    """
    search = _Search(problem, scope)
    for rule in search.rules():
        search.try_out(search.first_ways, rule)
    search.better(budget)
    return search.ways, search.order, search.plan


class _Search:
    def __init__(self, problem: Problem, scope: Scope) -> None:
        self.problem, self.scope = problem, scope
        self.chance = random.Random(_SEED)
        self.first_ways: Ways = {
            index: self._first_way(index)
            for index in range(len(problem.jobs))
            if scope.is_open(index)
        }
        self.tails = self._tails()
        self.ways = self.first_ways
        self.order: list[float] = []
        self.plan: Plan = {}
        self.rank: Rank | None = None

    def _first_way(self, index: int) -> int:
        ways = self.problem.jobs[index].ways
        return min(
            self.scope.ways[index],
            key=lambda n: (-ways[n].points, bool(ways[n].spares), ways[n].minutes),
        )

    def _tails(self) -> list[int]:
        """Minutes of work and lags along the longest chain behind each start."""
        jobs, ways = self.problem.jobs, self.first_ways
        tails = [
            jobs[i].ways[ways[i]].minutes if i in ways else 0 for i in range(len(jobs))
        ]
        for index, _ in reversed(in_order(self.problem, ways, [0.0] * len(jobs))):
            for before, lag in jobs[index].ways[ways[index]].after:
                if before in ways:
                    own = jobs[before].ways[ways[before]].minutes
                    tails[before] = max(tails[before], own + lag + tails[index])
        return tails

    def rules(self) -> list[list[float]]:
        """Longest tail first; earliest limit first; earliest start first; as asked."""
        jobs = self.problem.jobs
        musts = [0 if job.required else 1 << 40 for job in jobs]
        return [
            [m - tail for m, tail in zip(musts, self.tails, strict=True)],
            [float(-tail) for tail in self.tails],
            [
                m + job.due - t
                for m, job, t in zip(musts, jobs, self.tails, strict=True)
            ],
            [float(head) for head in self.scope.heads],
            [float(index) for index in range(len(jobs))],
        ]

    def try_out(self, ways: Ways, order: list[float]) -> bool:
        """Whether this is at least as good as the best so far, which it then is."""
        plan = placed_in_order(self.problem, in_order(self.problem, ways, order))
        rank = rank_of(self.problem, plan)
        if self.rank is not None and rank < self.rank:
            return False
        self.ways, self.order, self.plan, self.rank = ways, order, plan, rank
        return True

    def better(self, budget: Budget) -> None:
        """Changes one thing after another while there is time and anything to gain."""
        moves: list[Callable[[], tuple[Ways, list[float]]]] = [self._another_order]
        if any(len(self.scope.ways[i]) > 1 for i in self.first_ways) or len(
            self.plan
        ) < len(self.first_ways):
            moves += [self._another_way, self._without_one]
        idle = 0
        for _ in range(tries_in(budget.limit_s, len(self.problem.jobs), 1)):
            if budget.left_s <= 0 or idle > 40 + 4 * len(self.first_ways):
                return
            before = self.rank
            self.try_out(*self.chance.choice(moves)())
            idle = 0 if self.rank != before else idle + 1

    def _another_order(self) -> tuple[Ways, list[float]]:
        """From the start times as they are, with some activities moved ahead."""
        order = [
            float(self.plan[i].start) if i in self.plan else float(self.problem.horizon)
            for i in range(len(self.problem.jobs))
        ]
        if order:
            for _ in range(self.chance.randint(1, 3)):
                index = self.chance.randrange(len(order))
                order[index] *= self.chance.random() * 1.2
        return self.ways, order

    def _another_way(self) -> tuple[Ways, list[float]]:
        """Another way for one activity; what it spares is no longer wanted."""
        several = [i for i in self.first_ways if len(self.scope.ways[i]) > 1]
        dropped = [i for i in self.first_ways if i not in self.ways]
        if not several and not dropped:
            return self._another_order()
        index = self.chance.choice(several + dropped)
        others = [n for n in self.scope.ways[index] if n != self.ways.get(index)]
        number = self.chance.choice(others)
        ways = {**self.ways, index: number}
        for spared in self.problem.jobs[index].ways[number].spares:
            ways.pop(spared, None)
        # What an earlier fallback replaced is wanted again where nothing replaces it.
        spared_now = {
            s for i, n in ways.items() for s in self.problem.jobs[i].ways[n].spares
        }
        for back in self.first_ways:
            if back not in ways and back not in spared_now:
                ways[back] = self.first_ways[back]
        return ways, self.order

    def _without_one(self) -> tuple[Ways, list[float]]:
        """One activity less, for what it holds and takes."""
        ways = dict(self.ways)
        optional = [i for i in ways if not self.problem.jobs[i].required]
        wanted = optional if optional and self.chance.random() < 0.8 else list(ways)
        if wanted:
            ways.pop(self.chance.choice(wanted))
        return ways, self.order
