"""A budget by the clock, and a steady one that counts work."""

from __future__ import annotations

import time

import pytest
from ortools.sat.python import cp_model

from fabshop.reckoning.schedule.best import EFFORT_PER_S, Budget


def hard_model() -> cp_model.CpModel:
    """Pigeons into too few holes: no answer within any of these limits."""
    model = cp_model.CpModel()
    at = [[model.new_bool_var(f"{p} {h}") for h in range(13)] for p in range(14)]
    for row in at:
        model.add_bool_or(row)
    for hole in range(13):
        for one in range(14):
            for other in range(one):
                model.add_bool_or(at[one][hole].negated(), at[other][hole].negated())
    return model


def test_a_steady_budget_is_spent_by_work_and_not_by_waiting():
    budget = Budget(1.0, steady=True)
    time.sleep(0.05)
    assert budget.left_s == 1.0
    budget.run(hard_model(), limit_s=0.1, linear=0, probe=False)
    assert budget.left_s < 1.0


def test_a_part_is_spent_from_the_whole():
    budget = Budget(4.0, steady=True)
    budget.part(2.0).spend(1.5)
    assert budget.left_s == pytest.approx(2.5)


def test_the_same_work_is_counted_the_same_again():
    told = [
        Budget(1.0, steady=True).run(hard_model(), limit_s=0.1, linear=0, probe=False)
        for _ in range(2)
    ]
    assert told[0].effort == told[1].effort >= 0.1 * EFFORT_PER_S


def test_a_plain_budget_goes_by_the_clock():
    budget = Budget(0.01)
    time.sleep(0.02)
    assert budget.left_s == 0
