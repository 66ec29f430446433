"""Better schedules bred from good ones, for when proof is out of reach.

Orders and ways of two good plans are mixed (two-point crossover of activity lists,
Hartmann 1998), then each plan is pushed as late as it goes and pulled back as early as
it goes (double justification, Valls, Ballestin and Quintanilla 2005).
"""

from __future__ import annotations

import random
from collections.abc import Sequence
from dataclasses import dataclass, replace

from fabshop.reckoning.schedule.best import Budget, Rank, finish_of, rank_of, tries_in
from fabshop.reckoning.schedule.place import (
    Plan,
    in_order,
    placed_in_order,
    spared_by,
)
from fabshop.reckoning.schedule.problem import Job, Problem, Windows
from fabshop.reckoning.schedule.scope import Scope

_SEED = 20270903
_MANY = 40
"""Plans kept to breed from."""
_PLACINGS = 3
Ways = dict[int, int]


@dataclass(frozen=True)
class Bred:
    """A plan with the ways that were wanted, and what it comes to."""

    rank: Rank
    plan: Plan
    ways: Ways


class Breed:
    """Plans that better one another."""

    def __init__(self, problem: Problem, scope: Scope) -> None:
        self.problem, self.scope = problem, scope
        self.chance = random.Random(_SEED)
        self.several = [i for i, ways in enumerate(scope.ways) if len(ways) > 1]
        self.every = [i for i, ways in enumerate(scope.ways) if ways]
        self.kept: list[Bred] = []
        self._mirrors: dict[frozenset[tuple[int, int]], Problem] = {}

    @property
    def best(self) -> Bred:
        """The best so far."""
        return max(self.kept, key=lambda one: one.rank)

    def add(self, ways: Ways, order: Sequence[float]) -> bool:
        """Places and justifies; kept where it is new and among the best."""
        plan = placed_in_order(self.problem, in_order(self.problem, ways, order))
        plan = self.justified(plan)
        found = Bred(rank_of(self.problem, plan), plan, ways)
        if any(one.rank == found.rank and one.plan == plan for one in self.kept):
            return False
        self.kept.append(found)
        if len(self.kept) > _MANY:
            worst = min(self.kept, key=lambda one: one.rank)
            self.kept.remove(worst)
            return worst is not found
        return True

    def add_plan(self, plan: Plan) -> None:
        """A plan as it is, with all that it leaves out not wanted."""
        order = [float(self.problem.horizon)] * len(self.problem.jobs)
        for i, placed in plan.items():
            order[i] = float(placed.start)
        self.add({i: placed.way for i, placed in plan.items()}, order)

    def seed(self, ways: Ways, order: Sequence[float], budget: Budget) -> None:
        """The first plans: an order, and others more and more shaken."""
        self.add(ways, order)
        spread = max(1.0, max(order, default=0.0) - min(order, default=0.0))
        for number in range(_MANY - 1):
            if budget.left_s <= 0:
                return
            shake = spread * (number + 1) / _MANY / 2
            shaken = [at + self.chance.uniform(-shake, shake) for at in order]
            self.add(ways, shaken)

    def run(self, budget: Budget) -> None:
        """So many children, or as many as there is time for."""
        for _ in range(tries_in(budget.limit_s, len(self.problem.jobs), _PLACINGS)):
            if budget.left_s <= 0:
                return
            mother, father = self._one(), self._one()
            ways = self._ways_of_child(mother, father)
            self.add(ways, self._order_of_child(mother.plan, father.plan))

    def _one(self) -> Bred:
        some = self.chance.sample(self.kept, min(2, len(self.kept)))
        return max(some, key=lambda one: one.rank)

    def _order_of_child(self, mother: Plan, father: Plan) -> list[float]:
        """The mother's order outside two cuts, the father's between them."""
        first = sorted(mother, key=lambda i: (mother[i].start, mother[i].finish))
        second = sorted(father, key=lambda i: (father[i].start, father[i].finish))
        low, high = sorted(self.chance.randint(0, len(first)) for _ in range(2))
        head = first[:low]
        seen = set(head)
        middle = [i for i in second if i not in seen][: high - low]
        seen.update(middle)
        child = head + middle + [i for i in first if i not in seen]
        seen.update(child)
        child += [i for i in second if i not in seen]
        order = [float(len(self.problem.jobs))] * len(self.problem.jobs)
        for place, i in enumerate(child):
            order[i] = float(place)
        if child and self.chance.random() < 0.3:
            order[self.chance.choice(child)] -= self.chance.uniform(0, 10)
        return order

    def _ways_of_child(self, mother: Bred, father: Bred) -> Ways:
        ways = dict(mother.ways)
        for i in self.several:
            if i in father.ways and self.chance.random() < 0.3:
                ways[i] = father.ways[i]
        if self.several and self.chance.random() < 0.5:
            i = self.chance.choice(self.several)
            ways[i] = self.chance.choice(self.scope.ways[i])
        left_out = [i for i in self.every if i not in mother.plan]
        optional = [i for i in ways if not self.problem.jobs[i].required]
        if left_out and self.chance.random() < 0.4:
            # What found no room makes others give way, or another way is tried.
            if optional and self.chance.random() < 0.5:
                ways.pop(self.chance.choice(optional))
            i = self.chance.choice(left_out)
            ways[i] = self.chance.choice(self.scope.ways[i])
        spared = spared_by(self.problem, list(ways.items()))
        for i in spared:
            ways.pop(i, None)
        for i in self.every:
            if i not in ways and i not in spared and self.chance.random() < 0.3:
                ways[i] = self.chance.choice(self.scope.ways[i])
        return ways

    def justified(self, plan: Plan) -> Plan:
        """Pushed to the end of the plan, then pulled back: never worse."""
        ways = {i: placed.way for i, placed in plan.items()}
        mirror = self._mirror(ways)
        horizon, finish = self.problem.horizon, finish_of(plan)
        zeros = dict.fromkeys(ways, 0)
        last_first = [0.0] * len(self.problem.jobs)
        for i, placed in plan.items():
            last_first[i] = -float(placed.finish)
        late = placed_in_order(
            mirror, in_order(mirror, zeros, last_first), horizon - finish
        )
        if len(late) < len(plan):
            return plan
        order = [0.0] * len(self.problem.jobs)
        for i, placed in late.items():
            order[i] = float(horizon - placed.finish)
        early = placed_in_order(self.problem, in_order(self.problem, ways, order))
        if rank_of(self.problem, early) < rank_of(self.problem, plan):
            return plan
        return early

    def _mirror(self, ways: Ways) -> Problem:
        key = frozenset(ways.items())
        if key not in self._mirrors:
            if len(self._mirrors) > _MANY:
                self._mirrors.clear()
            self._mirrors[key] = mirrored(self.problem, ways)
        return self._mirrors[key]


def mirrored(problem: Problem, ways: Ways) -> Problem:
    """The same work in these ways with time running backwards from the horizon."""
    horizon = problem.horizon
    behind: dict[int, list[tuple[int, int]]] = {i: [] for i in ways}
    for i, n in ways.items():
        for before, lag in problem.jobs[i].ways[n].after:
            if before in ways:
                behind[before].append((i, lag))
    jobs = tuple(
        _mirrored_job(job, ways.get(i, 0), behind.get(i, []), horizon)
        for i, job in enumerate(problem.jobs)
    )
    windows = tuple(_mirrored_windows(spans, horizon) for spans in problem.windows)
    # What is used up is the same either way, and was counted in the plan.
    stores = tuple(1 << 60 for _ in problem.stores)
    return replace(problem, jobs=jobs, windows=windows, stores=stores)


def _mirrored_job(
    job: Job, number: int, behind: list[tuple[int, int]], horizon: int
) -> Job:
    way = replace(job.ways[number], after=tuple(sorted(behind)), spares=frozenset())
    ready, due = max(0, horizon - job.due), horizon - job.ready
    return replace(job, ways=(way,), ready=ready, due=due)


def _mirrored_windows(spans: Windows | None, horizon: int) -> Windows | None:
    if spans is None:
        return None
    return tuple(
        (horizon - min(end, horizon), horizon - start)
        for start, end in reversed(spans)
        if start < horizon
    )
