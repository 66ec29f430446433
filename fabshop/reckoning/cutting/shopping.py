"""Which bars to take, cheapest first, then shortest, as far as is known so far."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from ortools.sat.python import cp_model

from fabshop.reckoning.cutting.best import Budget
from fabshop.reckoning.cutting.pattern import Worth
from fabshop.reckoning.cutting.problem import Problem
from fabshop.reckoning.solver import Ended, run

_PRICE_LIMIT = 2**60


class OutOfTime:
    """No basket was found, and none is ruled out."""


OUT_OF_TIME = OutOfTime()


@dataclass(frozen=True)
class Basket:
    """How many bars of each kind; no basket of less worth carries the pieces."""

    bars: tuple[int, ...]
    cost: int
    length_um: int


class Shopping:
    """Every rule here is true of any bars that carry all pieces."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.model = cp_model.CpModel()
        self.bars: list[Any] = [
            self.model.new_int_var(0, kind.count, "") for kind in problem.kinds
        ]
        self.cost = self._sum([kind.cost for kind in problem.kinds])
        self.length = self._sum([kind.length_um for kind in problem.kinds])

    def _sum(self, of_kind: Sequence[int]) -> Any:
        return sum(each * bars for each, bars in zip(of_kind, self.bars, strict=True))

    def carries(self, worth: Worth) -> None:
        self.model.add(self._sum(worth.most) >= worth.needed)

    def is_not_within(self, basket: Sequence[int]) -> None:
        """These bars do not carry the pieces, nor do fewer of them."""
        more = []
        for bars, has, kind in zip(self.bars, basket, self.problem.kinds, strict=True):
            if has < kind.count:
                it = self.model.new_bool_var("")
                self.model.add(bars >= has + 1).only_enforce_if(it)
                more.append(it)
        self.model.add_bool_or(more)

    def is_no_dearer(self, cost: int, length_um: int) -> None:
        """Only baskets of this cost and this length or less, from now on."""
        self.model.add(self.cost <= cost)
        self.model.add(self.length <= length_um)

    def best(self, budget: Budget) -> Basket | OutOfTime | None:
        """The cheapest basket, the shortest among those; None: there is none left."""
        kinds = self.problem.kinds
        longest = 1 + sum(kind.length_um * kind.count for kind in kinds)
        dearest = sum(kind.cost * kind.count for kind in kinds)
        at_once = dearest * longest < _PRICE_LIMIT
        price = longest * self.cost + self.length if at_once else self.cost
        self.model.minimize(price)
        found = run(self.model, limit_s=budget.left_s)
        if found.is_proven and not at_once:
            cheapest = self.model.clone()
            cheapest.add(
                self.cost
                == sum(
                    kind.cost * found[bars]
                    for kind, bars in zip(kinds, self.bars, strict=True)
                )
            )
            cheapest.minimize(self.length)
            found = run(cheapest, limit_s=budget.left_s)
        if found.ended is Ended.IMPOSSIBLE:
            return None
        if not found.is_proven:
            return OUT_OF_TIME
        bars = tuple(found[variable] for variable in self.bars)
        return Basket(
            bars,
            sum(kind.cost * n for kind, n in zip(kinds, bars, strict=True)),
            sum(kind.length_um * n for kind, n in zip(kinds, bars, strict=True)),
        )
