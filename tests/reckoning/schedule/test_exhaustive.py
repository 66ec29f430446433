"""Held against an exhaustive search on small shops with every field in play."""

from __future__ import annotations

from typing import Any

import pytest

from fabshop.reckoning.ask import reckon
from fabshop.reckoning.schedule import plan as planning
from tests.reckoning.schedule.exhaustive import best_rank, best_rank_of_all_starts
from tests.reckoning.schedule.minutes import Shop
from tests.reckoning.schedule.replay import assert_replays
from tests.reckoning.schedule.small_cases import small_case


def assert_is_best(question: dict[str, Any]) -> None:
    best = best_rank(question)
    answer = reckon("schedule", question)
    pins = sum("pinned" in one for one in question["activities"])
    if answer["status"] == "infeasible":
        assert best[0] < pins
        assert "cannot be kept" in answer["why"]
        return
    shop = Shop(question)
    assert answer["status"] == "optimal"
    assert shop.rank(shop.told(answer)) == best
    assert best[0] == pins
    assert_replays(question, answer)


@pytest.mark.parametrize("tens", range(40))
def test_no_plan_is_better(tens: int) -> None:
    for seed in range(10 * tens, 10 * tens + 10):
        assert_is_best(small_case(seed))


@pytest.mark.parametrize("tens", range(40, 70))
def test_the_solver_finds_it_without_a_first_plan_too(
    tens: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(
        planning, "plan_by_rule", lambda p, *_: ({}, [0] * len(p.jobs), {})
    )
    for seed in range(10 * tens, 10 * tens + 10):
        assert_is_best(small_case(seed))


@pytest.mark.parametrize("seed", range(60))
def test_orders_are_enough_to_try(seed: int) -> None:
    question = small_case(seed, most=2)
    assert best_rank(question) == best_rank_of_all_starts(question)
