"""How a run ended, told in our words."""

from __future__ import annotations

from ortools.sat.python import cp_model

from fabshop.reckoning import solver
from fabshop.reckoning.solver import Ended


def knapsack() -> tuple[cp_model.CpModel, list[cp_model.IntVar]]:
    model = cp_model.CpModel()
    taken = [model.new_bool_var(f"x{n}") for n in range(6)]
    model.add(sum((3 + n) * x for n, x in enumerate(taken)) <= 14)
    return model, taken


def test_a_proven_run_tells_best_and_bound_as_whole_numbers() -> None:
    model, taken = knapsack()
    model.maximize(sum((4 + n) * x for n, x in enumerate(taken)))
    outcome = solver.run(model, limit_s=10)
    assert outcome.is_proven
    assert outcome.best == outcome.bound == 17
    assert sum(outcome[x] for x in taken) == 3
    assert all(outcome.holds(x) != outcome.holds(~x) for x in taken)


def test_contradicting_assumptions_are_named() -> None:
    model, taken = knapsack()
    outcome = solver.run(model, limit_s=10, assume=tuple(taken[3:]))
    assert outcome.ended is Ended.IMPOSSIBLE
    assert set(outcome.core) <= {0, 1, 2} and outcome.core
    again = solver.run(model, limit_s=10)
    assert again.is_solved


def test_no_time_is_nothing_found_not_an_error() -> None:
    model, _ = knapsack()
    outcome = solver.run(model, limit_s=0)
    assert (outcome.ended, outcome.is_solved) == (Ended.NOTHING, False)


def test_a_hint_is_begun_from_and_the_first_solution_told() -> None:
    model, taken = knapsack()
    model.maximize(sum(taken))
    moments: list[float] = []
    hint = {x.index: int(n < 3) for n, x in enumerate(taken)}
    outcome = solver.run(
        model, limit_s=10, hint=hint, on_solution=moments.append, stop_at_first=True
    )
    assert outcome.best == 3
    assert len(moments) == 1


def test_the_same_model_has_the_same_solution() -> None:
    found = []
    for _ in range(2):
        model, taken = knapsack()
        model.maximize(sum(taken))
        found.append(solver.run(model, limit_s=10).values)
    assert found[0] == found[1]


def test_without_probing_the_answer_is_the_same() -> None:
    model, taken = knapsack()
    model.maximize(sum((4 + n) * x for n, x in enumerate(taken)))
    outcome = solver.run(model, limit_s=10, linear=0, probe=False)
    assert (outcome.is_proven, outcome.best) == (True, 17)
