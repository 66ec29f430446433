"""The best cutting plan: two engines between a start by rule and true bounds."""

from __future__ import annotations

from collections.abc import Sequence

from fabshop.reckoning.cutting.assign import MOST_CELLS as MOST_PLACES
from fabshop.reckoning.cutting.assign import assigned
from fabshop.reckoning.cutting.best import Best, Budget, longest_drop_um, rank
from fabshop.reckoning.cutting.drop import Drop
from fabshop.reckoning.cutting.first_fit import by_rule
from fabshop.reckoning.cutting.knapsack import MOST_CELLS
from fabshop.reckoning.cutting.lucky import lucky
from fabshop.reckoning.cutting.pattern import Patterns
from fabshop.reckoning.cutting.problem import Plan, Problem
from fabshop.reckoning.cutting.scarce import scarce_plan
from fabshop.reckoning.cutting.shopping import OutOfTime, Shopping
from fabshop.reckoning.cutting.whole import Filled, fill
from fabshop.reckoning.solver import Ended

_NODES = 400
_TRIES = 60
_MOST_PATTERNS = 6_000
_MOST_BASKETS = 40
"""How many equally good baskets are looked at for the longest drop."""


def best_plan(problem: Problem, budget: Budget) -> Best:
    """Best means: most pieces, least cost, least length, longest drop, in turn."""
    start = by_rule(problem, budget)
    if not problem.wanted or not problem.kinds:
        return Best(start, rank(problem, start))
    if rank(problem, start)[0] < problem.wanted:
        scarce = scarce_plan(problem, start, budget)
        if rank(problem, scarce.plan)[0] < problem.wanted:
            return scarce
        start = scarce.plan
    return _Search(problem, start, budget).best()


class _Search:
    """All pieces can be cut: which bars are bought, and how they are filled."""

    def __init__(self, problem: Problem, start: Plan, budget: Budget) -> None:
        self.problem, self.plan, self.budget = problem, start, budget
        self.patterns = Patterns(problem)
        self.patterns.add(start)
        self.unseen = 0
        self.shopping = Shopping(problem)
        for of_sort in (self.patterns.grid.light, [1] * len(problem.sorts)):
            self.shopping.carries(self.patterns.worth(of_sort)[0])

    def best(self) -> Best:
        cost, length = self._cheapest()
        drop = self._longest_drop()
        return Best(self.plan, (self.problem.wanted, -cost, -length, drop))

    def _price(self) -> tuple[int, int]:
        _, cost, length, _ = rank(self.problem, self.plan)
        return -cost, -length

    def _cheapest(self) -> tuple[int, int]:
        """Betters the plan; no plan costs less, nor for that cost is shorter."""
        bound: tuple[int, int] | None = None
        cut_um = sum(sort.length_um * sort.count for sort in self.problem.sorts)
        known = (0, cut_um)
        while True:
            basket = self.shopping.best(self.budget)
            if isinstance(basket, OutOfTime):
                return bound or known
            if basket is None or (basket.cost, basket.length_um) >= self._price():
                return bound or self._price()
            known = basket.cost, basket.length_um
            conflict = self.patterns.conflict(basket.bars, self.budget)
            if conflict is not None:
                self.shopping.carries(conflict)
                continue
            filled = self._filled(basket.bars)
            if filled.plan:
                self.plan = filled.plan
                return bound or self._price()
            if filled.ended is not Ended.IMPOSSIBLE:
                bound = bound or known
            self.shopping.is_not_within(basket.bars)

    def _filled(self, bars: Sequence[int]) -> Filled:
        """Every piece on these bars, or that it cannot be, or neither in time."""
        found = lucky(
            self.problem, bars, self.budget, tries=_TRIES, keep=self.patterns.add
        )
        if found is not None:
            return Filled(Ended.FOUND, found)
        size = sum(bars) * len(self.problem.sorts)
        is_long = self.problem.wanted <= 4 * sum(bars) or size > MOST_PLACES
        columns = self.patterns.complete(bars, _MOST_PATTERNS)
        if is_long or columns is not None:
            some = columns if columns is not None else self.patterns.some(bars)
            filled = fill(self.problem, bars, some, self.budget, nodes=_NODES)
            if filled.plan or (
                columns is not None and filled.ended is Ended.IMPOSSIBLE
            ):
                return filled
        if size > MOST_PLACES:
            return Filled(Ended.NOTHING)
        return assigned(self.problem, bars, self.plan, self.budget)

    def _longest_drop(self) -> int:
        """Betters the longest drop at the same price; no plan leaves a longer one."""
        bound, reached = 0, longest_drop_um(self.problem, self.plan)
        for most, bars, kind in self._places_for_a_drop():
            if most <= reached:
                break
            if self.budget.left_s <= 0:
                # The places come longest first.
                bound = max(bound, most)
                break
            drop = Drop(self.problem, self.patterns, bars, kind, self.budget)
            plan, longest = drop.longest(self.plan, reached)
            bound = max(bound, longest)
            found = longest_drop_um(self.problem, plan)
            if found > reached:
                self.plan, reached = plan, found
        return max(bound, self.unseen, reached)

    def _places_for_a_drop(self) -> list[tuple[int, tuple[int, ...], int]]:
        """The longest drop that each kind of each best basket could leave at most."""
        problem = self.problem
        cost, length = self._price()
        own = [0] * len(problem.kinds)
        for bar in self.plan:
            own[bar.kind] += 1
        baskets = [tuple(own)]
        self.shopping.is_no_dearer(cost, length)
        self.shopping.is_not_within(own)
        while len(baskets) < _MOST_BASKETS:
            basket = self.shopping.best(self.budget)
            if basket is None or isinstance(basket, OutOfTime):
                break
            conflict = self.patterns.conflict(basket.bars, self.budget)
            if conflict is not None:
                self.shopping.carries(conflict)
                continue
            baskets.append(basket.bars)
            self.shopping.is_not_within(basket.bars)
        else:
            # More of them than are looked at: nothing is proven of the drop.
            self.unseen = max(kind.length_um for kind in problem.kinds)
        return self._places(baskets)

    def _places(
        self, baskets: Sequence[tuple[int, ...]]
    ) -> list[tuple[int, tuple[int, ...], int]]:
        problem, grid = self.problem, self.patterns.grid
        worth, knapsack = self.patterns.worth(grid.light)
        places = []
        for bars in baskets:
            carried = sum(m * n for m, n in zip(worth.most, bars, strict=True))
            for kind in (kind for kind, count in enumerate(bars) if count):
                load = max(1, worth.needed - (carried - worth.most[kind]))
                if grid.is_exact:
                    # What a bar carries is a sum of pieces: the next one up.
                    while load < grid.caps[kind] and knapsack.most(load) != load:
                        load += 1
                else:
                    cell = 1 + max(each.cap for each in problem.kinds) // MOST_CELLS
                    load = load * cell
                places.append((problem.left_um(kind, load), bars, kind))
        return sorted(places, key=lambda place: -place[0])
