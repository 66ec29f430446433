"""The planner against a search through every order, on random small questions.

FABSHOP_CASES=2000 compares so many instead of the few hundred of an ordinary run.
"""

from __future__ import annotations

import os
from typing import Any

import pytest

from fabshop.reckoning.ask import reckon
from tests.reckoning.exhaustive import Bench, TooMany, best_by_search, clock
from tests.reckoning.replay import replay
from tests.reckoning.small_cases import small_case

CASES = int(os.environ.get("FABSHOP_CASES", "200"))
BLOCK = 20


@pytest.mark.parametrize("block", range(CASES // BLOCK))
def test_the_plan_is_as_good_as_the_best_of_every_order(block: int) -> None:
    compared = 0
    for seed in range(block * 1000, block * 1000 + 1000):
        asked = small_case(seed)
        answer = reckon("teardown", asked)
        replay(asked, answer)
        assert answer["status"] == "optimal", seed
        try:
            best = best_by_search(asked, asked["max_sessions"])
        except TooMany:
            continue
        assert _reached(asked, answer, best) == best, seed
        compared += 1
        if compared == BLOCK:
            break
    assert compared == BLOCK


def _reached(
    asked: dict[str, Any], answer: dict[str, Any], best: dict[str, int]
) -> dict[str, int]:
    totals, sessions, bench = answer["totals"], answer["sessions"], Bench(asked)
    finish = bench.first_from(clock(sessions[-1]["finish"])) if sessions else 0
    reached = {
        "required": totals["required"],
        "points": totals["points"],
        "others": totals["others"],
        "handling": totals["handling_minutes"],
        "finish": finish,
    }
    if "latest_start" in best:
        latest = clock(sessions[0]["latest_start"])
        reached["latest_start"] = bench.first_from(latest)
    return reached
