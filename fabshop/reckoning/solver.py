"""The one place that runs the CP-SAT solver, and says in our words how it ended."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from ortools.sat.python import cp_model

SEED = 20270903
"""Fixed, so that a proven question has the same answer every time."""
NEVER_PROVEN = 1e9


class Ended(StrEnum):
    PROVEN = "proven"
    FOUND = "found, not proven best"
    IMPOSSIBLE = "impossible"
    NOTHING = "nothing found in time"


@dataclass(frozen=True)
class Outcome:
    """How a run ended; `best` and `bound` are whole numbers where there is an aim."""

    ended: Ended
    values: tuple[int, ...]
    best: int
    bound: int
    seconds: float
    core: tuple[int, ...] = ()
    """Of the assumptions, by index, some that cannot hold together."""
    effort: float = 0.0
    """The work it took, in the solver's own units."""

    @property
    def is_solved(self) -> bool:
        return self.ended in (Ended.PROVEN, Ended.FOUND)

    @property
    def is_proven(self) -> bool:
        return self.ended is Ended.PROVEN

    def __getitem__(self, variable: cp_model.IntVar) -> int:
        return int(self.values[variable.index])

    def holds(self, literal: Any) -> bool:
        """Whether a literal, plain or negated or a constant, is true."""
        if isinstance(literal, (bool, int)):
            return bool(literal)
        index = literal.index
        return bool(self.values[index] if index >= 0 else 1 - self.values[-index - 1])


class _Watch(cp_model.CpSolverSolutionCallback):
    def __init__(self, on_solution: Callable[[float], None]) -> None:
        super().__init__()
        self._on_solution = on_solution

    def on_solution_callback(self) -> None:
        self._on_solution(self.wall_time)


def run(
    model: cp_model.CpModel,
    *,
    limit_s: float,
    effort: float = NEVER_PROVEN,
    linear: int = 1,
    probe: bool = True,
    stop_at_first: bool = False,
    hint: Mapping[int, int] | None = None,
    assume: tuple[cp_model.IntVar, ...] = (),
    on_solution: Callable[[float], None] | None = None,
    workers: int = 1,
    seed: int = SEED,
) -> Outcome:
    """Runs the model; never raises for lack of time or of a solution.

    `limit_s` bounds the clock; `effort` bounds the work in the solver's own units,
    which, unlike the clock, ends at the same point every time. Without `probe` less is
    tried out before the search: worth it where a model is large and found easily.
    """
    began = time.monotonic()
    if limit_s <= 0:
        return Outcome(Ended.NOTHING, (), 0, 0, 0.0)
    solver = cp_model.CpSolver()
    settings = solver.parameters
    settings.max_time_in_seconds = limit_s
    settings.max_deterministic_time = effort
    settings.num_workers = workers
    settings.random_seed = seed
    settings.linearization_level = linear
    if not probe:
        settings.cp_model_probing_level = 0
        settings.symmetry_level = 0
    settings.stop_after_first_solution = stop_at_first
    if hint is not None:
        model.clear_hints()  # type: ignore[no-untyped-call]
        for index, value in sorted(hint.items()):
            model.add_hint(model.get_int_var_from_proto_index(index), value)
    model.clear_assumptions()
    if assume:
        model.add_assumptions(list(assume))
    watch = _Watch(on_solution) if on_solution else None
    status = solver.solve(model, watch)
    seconds = time.monotonic() - began
    spent = float(solver.response_proto.deterministic_time)
    if status == cp_model.MODEL_INVALID:
        raise ValueError(model.validate())
    if status == cp_model.INFEASIBLE:
        core = _core(solver, assume)
        return Outcome(Ended.IMPOSSIBLE, (), 0, 0, seconds, core, effort=spent)
    if status == cp_model.UNKNOWN:
        bound = _whole(solver.best_objective_bound)
        return Outcome(Ended.NOTHING, (), 0, bound, seconds, effort=spent)
    ended = Ended.PROVEN if status == cp_model.OPTIMAL else Ended.FOUND
    return Outcome(
        ended,
        tuple(solver.response_proto.solution),
        # The solver works in floating point outwards: round, never cut.
        _whole(solver.objective_value),
        _whole(solver.best_objective_bound),
        seconds,
        effort=spent,
    )


def _core(
    solver: cp_model.CpSolver, assume: tuple[cp_model.IntVar, ...]
) -> tuple[int, ...]:
    if not assume:
        return ()
    named = set(solver.sufficient_assumptions_for_infeasibility())
    return tuple(i for i, literal in enumerate(assume) if literal.index in named)


def _whole(number: float) -> int:
    return round(max(min(number, 9e15), -9e15))
