"""The answers against every way to cut, and against a mixed-integer model."""

from __future__ import annotations

from typing import Any

import pytest
from ortools.linear_solver.python import model_builder

from fabshop.console.bench.cutting import shop_question
from fabshop.reckoning.ask import reckon
from tests.reckoning.cutting.asked import small_case
from tests.reckoning.cutting.replay import best_by_trying_all, replay


@pytest.mark.parametrize("seed", range(60))
def test_no_way_to_cut_is_better(seed: int) -> None:
    asked = small_case(seed)
    answer = reckon("cutlist", asked)
    assert answer["status"] == "optimal"
    assert replay(asked, answer) == best_by_trying_all(asked)


def least_length(asked: dict[str, Any], at_most_bars: int) -> float:
    """All pieces cut, on explicit bars, by HiGHS: no code of the project."""
    kerf = asked["kerf"]
    bars = [
        each["length"] - asked["end_trim"] + kerf
        for each in asked["stock"]
        for _ in range(each["count"] or at_most_bars)
    ]
    lengths = [
        each["length"]
        for each in asked["stock"]
        for _ in range(each["count"] or at_most_bars)
    ]
    model = model_builder.Model()
    opened = [model.new_bool_var("") for _ in bars]
    counts = [
        [model.new_int_var(0, piece["count"], "") for piece in asked["pieces"]]
        for _ in bars
    ]
    for index, piece in enumerate(asked["pieces"]):
        model.add(sum(bar[index] for bar in counts) == piece["count"])
    for bar, is_open, cap in zip(counts, opened, bars, strict=True):
        load = sum(
            (piece["length"] + kerf) * count
            for piece, count in zip(asked["pieces"], bar, strict=True)
        )
        model.add(load <= cap * is_open)
    model.minimize(sum(a * b for a, b in zip(lengths, opened, strict=True)))
    solver = model_builder.Solver("highs")
    assert solver.solve(model) == model_builder.SolveStatus.OPTIMAL
    return float(solver.objective_value)


@pytest.mark.parametrize("seed", range(12))
def test_a_mixed_integer_model_finds_no_shorter_stock(seed: int) -> None:
    asked = {**shop_question(seed), "time_limit_s": 2}
    asked["pieces"] = [{**piece, "count": 1} for piece in asked["pieces"][:7]]
    answer = reckon("cutlist", asked)
    replay(asked, answer)
    assert answer["short"] == []
    assert answer["totals"]["length"] == pytest.approx(least_length(asked, 3))
