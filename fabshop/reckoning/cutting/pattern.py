"""Whether given bars carry every piece, by ways to fill a bar: for long pieces."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any

from ortools.linear_solver import pywraplp

from fabshop.reckoning.cutting.best import Budget
from fabshop.reckoning.cutting.knapsack import Grid, Knapsack, grid_of
from fabshop.reckoning.cutting.problem import Plan, Problem

_FINENESS = 2**24
"""Worths are whole multiples of their largest one over this."""
_ROUNDS = 400

Counts = tuple[int, ...]
Column = tuple[int, Counts]
"""A kind of stock and one way to fill it."""


@dataclass(frozen=True)
class Worth:
    """A worth for each sort, and the most that each kind can carry of it.

    Whatever the worths, bars that carry every piece carry all of their worth: the
    sum of `most` over the bars is at least `needed`. Whole numbers throughout, so
    this stands whatever the linear solver rounded.
    """

    most: tuple[int, ...]
    needed: int

    def is_carried_by(self, bars: Sequence[int]) -> bool:
        carried = sum(most * n for most, n in zip(self.most, bars, strict=True))
        return carried >= self.needed


@dataclass
class Patterns:
    """The ways to fill a bar that have turned up so far."""

    problem: Problem
    columns: dict[Column, None] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.grid: Grid = grid_of(self.problem)

    def worth(self, of_sort: Sequence[int]) -> tuple[Worth, Knapsack]:
        """The most of it that each kind can carry, and what tells how."""
        grid = self.grid
        knapsack = Knapsack(grid.light, grid.counts, of_sort, max(grid.caps))
        needed = sum(
            worth * sort.count
            for worth, sort in zip(of_sort, self.problem.sorts, strict=True)
        )
        return Worth(tuple(knapsack.most(cap) for cap in grid.caps), needed), knapsack

    def add(self, plan: Plan) -> None:
        for bar in plan:
            self.columns[bar.kind, bar.counts] = None

    def conflict(self, bars: Sequence[int], budget: Budget) -> Worth | None:
        """A worth that these bars cannot carry: then they do not carry the pieces.

        None when even fractions of patterns carry them, or time ran out.
        """
        weights = [float(sort.weight) for sort in self.problem.sorts]
        program = _Program(self.problem, bars, weights)
        for column in self.columns:
            program.add(column)
        for _ in range(_ROUNDS):
            if budget.left_s <= 0 or not program.solve():
                return None
            worths = _whole(program.worths())
            if not any(worths):
                return None
            worth, knapsack = self.worth(worths)
            if not worth.is_carried_by(bars):
                return worth
            scale, rents = max(program.worths()) / max(worths), program.rents()
            grew = False
            for kind, counts in self._fillings(bars, knapsack, worths):
                gain = (
                    scale * sum(w * n for w, n in zip(worths, counts, strict=True))
                    + rents[kind]
                )
                if gain > 1e-6 and (kind, counts) not in self.columns:
                    self.columns[kind, counts] = None
                    program.add((kind, counts))
                    grew = True
            if not grew:
                return None
        return None

    def _fillings(
        self, bars: Sequence[int], knapsack: Knapsack, worths: Sequence[int]
    ) -> list[Column]:
        grid = self.grid
        if not grid.is_exact:
            knapsack = Knapsack(grid.heavy, grid.counts, worths, max(grid.caps))
        return [
            (kind, knapsack.pattern(grid.caps[kind]))
            for kind, count in enumerate(bars)
            if count
        ]

    def complete(
        self, bars: Sequence[int], most: int, light: int | None = None, room: int = 0
    ) -> list[Column] | None:
        """Every pattern that these bars may have where they carry all pieces.

        No bar wastes more than all of them together may. With `light`, one bar of
        that kind carries `room` at most, and its patterns are in the list as well.
        None where there are more than `most`, or lengths are too fine to list them.
        """
        if not self.grid.is_exact:
            return None
        caps = [kind.cap for kind in self.problem.kinds]
        waste = sum(cap * n for cap, n in zip(caps, bars, strict=True))
        waste -= sum(sort.weight * sort.count for sort in self.problem.sorts)
        spans = {}
        if light is not None:
            waste -= caps[light] - room
            spans[light, room] = max(0, room - waste)
        if waste < 0:
            return []
        for kind, count in enumerate(bars):
            if count - (kind == light) > 0:
                spans[kind, caps[kind]] = max(0, caps[kind] - waste)
        _, knapsack = self.worth(self.grid.light)
        columns: dict[Column, None] = {}
        for (kind, cap), least in spans.items():
            found = knapsack.patterns(cap, least, most - len(columns))
            if found is None:
                return None
            columns |= {(kind, counts): None for counts in sorted(found)}
        return list(columns)

    def some(self, bars: Sequence[int]) -> list[Column]:
        """Of the patterns that have turned up, those of these bars."""
        return [column for column in self.columns if bars[column[0]]]


class _Program:
    """Least weight left uncut by given bars, in fractions of patterns."""

    def __init__(
        self, problem: Problem, bars: Sequence[int], penalties: Sequence[float]
    ) -> None:
        self.solver: Any = pywraplp.Solver.CreateSolver("GLOP")
        self.objective = self.solver.Objective()
        self.objective.SetMinimization()
        endless = self.solver.infinity()
        heaviest = max(penalties)
        self.needs = []
        for sort, penalty in zip(problem.sorts, penalties, strict=True):
            need = self.solver.RowConstraint(sort.count, endless, "")
            uncut = self.solver.NumVar(0, endless, "")
            need.SetCoefficient(uncut, 1)
            self.objective.SetCoefficient(uncut, penalty / heaviest)
            self.needs.append(need)
        self.has = [self.solver.RowConstraint(-endless, count, "") for count in bars]

    def add(self, column: Column) -> None:
        kind, counts = column
        times = self.solver.NumVar(0, self.solver.infinity(), "")
        self.has[kind].SetCoefficient(times, 1)
        for need, count in zip(self.needs, counts, strict=True):
            if count:
                need.SetCoefficient(times, count)

    def solve(self) -> bool:
        return bool(self.solver.Solve() == pywraplp.Solver.OPTIMAL)

    def worths(self) -> list[float]:
        return [max(0.0, need.dual_value()) for need in self.needs]

    def rents(self) -> list[float]:
        """What a bar of each kind costs the pieces on it, negative or nothing."""
        return [float(has.dual_value()) for has in self.has]


def _whole(worths: Sequence[float]) -> list[int]:
    most = max(worths)
    if most <= 1e-9:
        return [0] * len(worths)
    return [int(worth / most * _FINENESS) for worth in worths]
