"""Which piece goes to which bar, as a CP-SAT model: for few bars of many pieces."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from ortools.sat.python import cp_model

from fabshop.reckoning.cutting.best import Budget
from fabshop.reckoning.cutting.problem import Bar, Plan, Problem
from fabshop.reckoning.cutting.whole import Filled
from fabshop.reckoning.solver import Outcome, run

EFFORT = 2.0
"""What one question may take, in CP-SAT's own units, about seconds."""
MOST_CELLS = 4_000
"""Bars times sorts: beyond this an assignment is too big to be tried."""


class Assignment:
    """Bars of given kinds, each opened or not; bars of one kind stand together."""

    def __init__(self, problem: Problem, bars: Sequence[int]) -> None:
        self.problem, self.bars = problem, sorted(bars)
        self.model = cp_model.CpModel()
        self._variables()
        self._no_piece_is_cut_twice()
        self._a_bar_holds_what_fits()
        self._equal_bars_are_filled_in_order()

    def _variables(self) -> None:
        model, problem = self.model, self.problem
        self.counts: list[list[Any]] = []
        self.opened: list[Any] = []
        self.loads: list[Any] = []
        for kind in self.bars:
            cap = problem.kinds[kind].cap
            self.counts.append(
                [
                    model.new_int_var(0, min(sort.count, cap // sort.weight), "")
                    for sort in problem.sorts
                ]
            )
            self.opened.append(model.new_bool_var(""))
            self.loads.append(model.new_int_var(0, cap, ""))

    def _no_piece_is_cut_twice(self) -> None:
        for index, sort in enumerate(self.problem.sorts):
            self.model.add(sum(bar[index] for bar in self.counts) <= sort.count)

    def _a_bar_holds_what_fits(self) -> None:
        for number, kind in enumerate(self.bars):
            load = sum(
                count * sort.weight
                for count, sort in zip(
                    self.counts[number], self.problem.sorts, strict=True
                )
            )
            self.model.add(load == self.loads[number])
            self.model.add(
                self.loads[number] <= self.problem.kinds[kind].cap * self.opened[number]
            )
            self.model.add(self.loads[number] >= self.opened[number])

    def _equal_bars_are_filled_in_order(self) -> None:
        """Which of several equal bars carries what means nothing: fullest first."""
        for here in range(len(self.bars) - 1):
            if self.bars[here] == self.bars[here + 1]:
                self.model.add(self.loads[here] >= self.loads[here + 1])

    def every_piece_is_cut(self) -> None:
        for index, sort in enumerate(self.problem.sorts):
            self.model.add(sum(bar[index] for bar in self.counts) == sort.count)

    def number_cut(self) -> Any:
        return sum(count for bar in self.counts for count in bar)

    def cost(self) -> Any:
        return self._sum([kind.cost for kind in self.problem.kinds])

    def length(self) -> Any:
        return self._sum([kind.length_um for kind in self.problem.kinds])

    def _sum(self, of_kind: Sequence[int]) -> Any:
        return sum(
            of_kind[kind] * opened
            for kind, opened in zip(self.bars, self.opened, strict=True)
        )

    def lightest_is_at_most(self, kind: int, load: int) -> Any:
        """The last bar of a kind carries no more than this; its load, to be least."""
        last = max(n for n, other in enumerate(self.bars) if other == kind)
        # A bar that is not opened leaves no drop.
        self.model.add(self.opened[last] == 1)
        self.model.add(self.loads[last] <= load)
        return self.loads[last]

    def longest_drop(self, *, with_free: bool = False) -> Any:
        """The longest of what is left of the opened bars, in micrometres.

        `with_free`: or of the bars that cost nothing, opened or not.
        """
        model, problem = self.model, self.problem
        # The kerf of the last cut may end the bar.
        most = max(kind.length_um for kind in problem.kinds) + problem.kerf_um
        drop = model.new_int_var(-most, most, "")
        chosen = []
        for number, kind in enumerate(self.bars):
            it = model.new_bool_var("")
            if not with_free or problem.kinds[kind].cost:
                model.add_implication(it, self.opened[number])
            length = problem.kinds[kind].length_um - problem.trim_um
            left = length - problem.unit_um * self.loads[number]
            model.add(drop <= left).only_enforce_if(it)
            chosen.append(it)
        model.add_exactly_one(chosen)
        return drop

    def solve(self, plan: Plan, *, limit_s: float, effort: float) -> Outcome:
        """Runs the model from a plan that it may use as it finds fit."""
        return run(
            self.model,
            limit_s=limit_s,
            effort=effort,
            linear=1,
            hint=self._hint(plan),
        )

    def _hint(self, plan: Plan) -> dict[int, int]:
        waiting = sorted(plan, key=lambda bar: -bar.load(self.problem))
        hint: dict[int, int] = {}
        for number, kind in enumerate(self.bars):
            bar = next((bar for bar in waiting if bar.kind == kind), None)
            if bar is not None:
                waiting.remove(bar)
            counts = bar.counts if bar else (0,) * len(self.problem.sorts)
            hint[self.opened[number].index] = int(bar is not None)
            hint[self.loads[number].index] = bar.load(self.problem) if bar else 0
            for variable, count in zip(self.counts[number], counts, strict=True):
                hint[variable.index] = count
        return hint

    def plan(self, found: Outcome) -> Plan:
        """The bars that carry something."""
        bars = (
            Bar(kind, tuple(found[count] for count in self.counts[number]))
            for number, kind in enumerate(self.bars)
        )
        return tuple(bar for bar in bars if any(bar.counts))


def assigned(
    problem: Problem,
    bars: Sequence[int],
    start: Plan,
    budget: Budget,
    light: int | None = None,
    at_most: int = 0,
) -> Filled:
    """Every piece on these bars, or that it cannot be; unless time or effort end.

    With `light` one bar of that kind carries as little as can be, `at_most` at most.
    """
    each = [kind for kind, count in enumerate(bars) for _ in range(count)]
    model = Assignment(problem, each)
    model.every_piece_is_cut()
    if light is not None:
        model.model.minimize(model.lightest_is_at_most(light, at_most))
    found = model.solve(start, limit_s=budget.left_s, effort=EFFORT)
    return Filled(found.ended, model.plan(found) if found.is_solved else ())
