"""Bars filled by whole patterns out of a list, as a mixed-integer program."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from ortools.linear_solver import pywraplp

from fabshop.reckoning.cutting.best import Budget, bounded
from fabshop.reckoning.cutting.pattern import Column
from fabshop.reckoning.cutting.problem import Bar, Plan, Problem
from fabshop.reckoning.solver import Ended

_GRACE_S = 0.1
"""How long past its limit a solver is waited for."""


@dataclass(frozen=True)
class Filled:
    """How a search for whole patterns ended."""

    ended: Ended
    plan: Plan = ()


def fill(
    problem: Problem,
    bars: Sequence[int],
    columns: Sequence[Column],
    budget: Budget,
    *,
    nodes: int,
    light: int | None = None,
    at_most: int = 0,
) -> Filled:
    """Every piece cut from these bars by patterns of the list, if that can be.

    With `light` one bar of that kind is to carry as little as can be, and no more
    than `at_most`. "Impossible" and "proven" hold for the list, not beyond it.
    """

    def solved() -> Filled:
        program = _Program(problem, bars, columns, light, at_most)
        return program.solve(budget.left_s, nodes)

    return bounded(solved, budget.left_s + _GRACE_S) or Filled(Ended.NOTHING)


class _Program:
    def __init__(
        self,
        problem: Problem,
        bars: Sequence[int],
        columns: Sequence[Column],
        light: int | None,
        at_most: int,
    ) -> None:
        self.problem, self.light = problem, light
        self.solver: Any = pywraplp.Solver.CreateSolver("SCIP")
        self.columns = [column for column in columns if bars[column[0]]]
        self.times = [self.solver.IntVar(0, bars[kind], "") for kind, _ in self.columns]
        self.lightest: list[Any] = []
        self._no_more_bars_than_there_are(bars)
        self._every_piece_is_cut()
        if light is not None:
            self._one_bar_is_light(at_most)

    def _every_piece_is_cut(self) -> None:
        for index, sort in enumerate(self.problem.sorts):
            # What is cut once too often is taken out again, see `_cut_down`.
            most = self.solver.infinity() if self.light is None else sort.count
            row = self.solver.RowConstraint(sort.count, most, "")
            for variable, (_, counts) in zip(self.times, self.columns, strict=True):
                if counts[index]:
                    row.SetCoefficient(variable, counts[index])

    def _no_more_bars_than_there_are(self, bars: Sequence[int]) -> None:
        for kind, count in enumerate(bars):
            row = self.solver.RowConstraint(0, count, "")
            for variable, (other, _) in zip(self.times, self.columns, strict=True):
                if other == kind:
                    row.SetCoefficient(variable, 1)

    def _one_bar_is_light(self, at_most: int) -> None:
        objective = self.solver.Objective()
        objective.SetMinimization()
        one = self.solver.RowConstraint(1, 1, "")
        for variable, (kind, counts) in zip(self.times, self.columns, strict=True):
            load = Bar(kind, counts).load(self.problem)
            if kind == self.light and 0 < load <= at_most:
                it = self.solver.BoolVar("")
                one.SetCoefficient(it, 1)
                objective.SetCoefficient(it, load)
                row = self.solver.RowConstraint(0, self.solver.infinity(), "")
                row.SetCoefficient(variable, 1)
                row.SetCoefficient(it, -1)

    def solve(self, limit_s: float, nodes: int) -> Filled:
        solver = self.solver
        solver.SetTimeLimit(max(1, int(limit_s * 1000)))
        solver.SetSolverSpecificParametersAsString(f"limits/nodes = {nodes}\n")
        status = solver.Solve()
        if status == solver.INFEASIBLE:
            return Filled(Ended.IMPOSSIBLE)
        if status not in (solver.OPTIMAL, solver.FEASIBLE):
            return Filled(Ended.NOTHING)
        plan = tuple(
            Bar(kind, counts)
            for variable, (kind, counts) in zip(self.times, self.columns, strict=True)
            for _ in range(round(variable.solution_value()))
        )
        plan = _cut_down(self.problem, plan)
        if not _is_whole(self.problem, plan):
            return Filled(Ended.NOTHING)
        proven = status == solver.OPTIMAL
        return Filled(Ended.PROVEN if proven else Ended.FOUND, plan)


def _cut_down(problem: Problem, plan: Plan) -> Plan:
    """Without the pieces that are cut once too often; empty bars go."""
    left = [sort.count for sort in problem.sorts]
    bars = []
    for bar in plan:
        cut = tuple(min(n, have) for n, have in zip(bar.counts, left, strict=True))
        left = [have - n for have, n in zip(left, cut, strict=True)]
        if any(cut):
            bars.append(Bar(bar.kind, cut))
    return tuple(bars)


def _is_whole(problem: Problem, plan: Plan) -> bool:
    """Counted again: the solver's numbers are floating."""
    return all(
        sum(bar.counts[index] for bar in plan) == sort.count
        for index, sort in enumerate(problem.sorts)
    )
