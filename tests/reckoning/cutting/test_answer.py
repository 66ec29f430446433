"""The answer as plain data: which bar and piece is which, what is short, the gap."""

from __future__ import annotations

import json
from typing import Any

import pytest

from fabshop.console.bench.cutting import shop_question
from fabshop.reckoning.ask import reckon
from fabshop.reckoning.cutting.answer import answer_of
from fabshop.reckoning.cutting.best import Best, Budget, rank
from fabshop.reckoning.cutting.first_fit import by_rule
from fabshop.reckoning.cutting.problem import problem_of
from fabshop.reckoning.questions.cutlist import cutlist_question
from tests.reckoning.cutting.replay import replay

ASKED: dict[str, Any] = {
    "kerf": 1.5,
    "keep_over": 150,
    "stock": [{"id": "tube-a", "length": 1000, "count": 3}],
    "pieces": [{"id": "post", "length": 212.5, "count": 2}],
}


def test_the_answer_has_the_form_of_the_format() -> None:
    answer = reckon("cutlist", ASKED)
    assert answer == {
        "status": "optimal",
        "bars": [
            {
                "stock": "tube-a",
                "pieces": ["post", "post"],
                "left": 572.0,
                "fate": "drop",
            }
        ],
        "short": [],
        "totals": {"opened": 1, "cost": 0, "length": 1000, "yield": 0.425},
    }
    assert json.loads(json.dumps(answer)) == answer


@pytest.mark.parametrize(
    ("keep_over", "length", "left", "fate"),
    [
        (100, 899, 100.0, "drop"),
        (100, 899.5, 99.5, "scrap"),
        (0, 1000, 0.0, "scrap"),
        (0, 999.4, 0.0, "scrap"),
    ],
)
def test_what_is_left_is_a_drop_when_it_is_long_enough(
    keep_over: float, length: float, left: float, fate: str
) -> None:
    asked = {
        **ASKED,
        "kerf": 1,
        "keep_over": keep_over,
        "pieces": [{"id": "post", "length": length}],
    }
    bar = reckon("cutlist", asked)["bars"][0]
    assert (bar["left"], bar["fate"]) == (left, fate)


def test_a_piece_longer_than_all_stock_says_by_how_much() -> None:
    asked = {**ASKED, "end_trim": 5, "pieces": [{"id": "rail", "length": 1010}]}
    answer = reckon("cutlist", asked)
    why = "1010 mm is 15 mm longer than the longest stock after the end trim, 995 mm"
    assert answer["short"] == [{"piece": "rail", "count": 1, "why": why}]
    assert answer["bars"] == []
    assert answer["totals"]["yield"] == 0


def test_without_stock_or_pieces_there_is_still_an_answer() -> None:
    nothing = reckon("cutlist", {**ASKED, "stock": []})
    assert nothing["short"][0]["why"] == "there is no stock"
    assert reckon("cutlist", {**ASKED, "pieces": []})["bars"] == []


def test_what_stock_does_not_reach_for_is_short() -> None:
    pieces = [{"id": "long", "length": 900}, {"id": "post", "length": 300, "count": 3}]
    asked = {
        **ASKED,
        "stock": [{"id": "tube", "length": 1000}],
        "pieces": pieces,
    }
    answer = reckon("cutlist", asked)
    assert replay(asked, answer)[0] == 3
    assert [(line["piece"], line["count"]) for line in answer["short"]] == [("long", 1)]


def test_the_gap_names_the_first_aim_that_is_not_proven() -> None:
    question = cutlist_question({**ASKED, "stock": [{**ASKED["stock"][0], "cost": 2}]})
    problem = problem_of(question)
    plan = by_rule(problem, Budget(9))
    cut, cost, length, drop = rank(problem, plan)
    told = answer_of(question, problem, Best(plan, (cut, cost, length + 250_000, drop)))
    assert told["status"] == "feasible"
    assert told["gap"] == {"aim": "length", "reached": 1000, "bound": 750}
    told = answer_of(question, problem, Best(plan, (cut, 0, length, drop)))
    assert told["gap"] == {"aim": "cost", "reached": 2, "bound": 0}


def test_the_time_limit_holds() -> None:
    answer = reckon("cutlist", {**shop_question(1), "time_limit_s": 0.05})
    assert answer["status"] == "feasible"
    assert answer["gap"]["bound"] <= answer["gap"]["reached"]
