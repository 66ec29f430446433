"""What a plan comes to, counted from its steps."""

from __future__ import annotations

import time

from fabshop.reckoning.teardown.best import (
    Aim,
    Best,
    Budget,
    Totals,
    finish_of,
    totals_of,
)
from tests.reckoning.teardown.asked import LOOM, problem
from tests.reckoning.teardown.test_timing import PLAN


def test_totals_are_counted_from_the_steps() -> None:
    asked = problem(setup_minutes=5, tasks=[{**LOOM, "points": 3, "required": False}])
    assert totals_of(asked, PLAN) == Totals(0, 3, 1, 30)
    assert totals_of(asked, ()) == Totals(0, 0, 0, 0)


def test_the_finish_is_the_end_of_the_last_step() -> None:
    assert finish_of(problem(setup_minutes=5), PLAN) == 60
    assert finish_of(problem(), ()) == 0


def test_the_gap_is_the_first_aim_that_is_not_proven() -> None:
    aims = Aim("required", 3, 3), Aim("points", 5, 9), Aim("others", 0, 4)
    assert Best((), aims).gap == aims[1]
    assert Best((), aims[:1]).gap is None


def test_a_budget_runs_out_and_never_below_nothing() -> None:
    budget = Budget(0.02)
    assert 0 < budget.share(0.5).left_s <= 0.01
    time.sleep(0.03)
    assert budget.left_s == 0
