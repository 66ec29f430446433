"""How sure a plan is: against the planner itself, plain reckoning and common sense."""

from __future__ import annotations

import random
from typing import Any

import numpy as np
import pytest
from scipy import stats

from fabshop.errors import BadQuestion
from fabshop.reckoning.ask import reckon
from fabshop.reckoning.sure import sure
from fabshop.reckoning.sure.doubt import ranks
from tests.reckoning.schedule.asked import asked, at, evenings, way, work
from tests.reckoning.schedule.small_cases import small_case


def plan(name: str, question: dict[str, Any]) -> dict[str, Any]:
    return {"id": name, "question": question, "answer": reckon("schedule", question)}


GLUE_AND_SAND = asked(
    work("glue", 100),
    work("sand", 50, after="glue+60"),
    windows=evenings(3),
    deadline=at("21:00", 1),
)


def test_with_no_doubt_the_walk_is_the_plan() -> None:
    found = sure({"plans": [plan("kept", GLUE_AND_SAND)], "resource": "me", "runs": 3})
    kept = found["plans"][0]
    assert kept["chance"] == 1
    assert kept["finish"] == dict.fromkeys(("p10", "p50", "p90"), at("18:30", 1))
    assert kept["in_hand"] == dict.fromkeys(("p10", "p50", "p90"), 150)
    assert found["doubts"] == []


@pytest.mark.parametrize("seed", range(150))
def test_without_doubt_every_plan_is_walked_as_it_was_planned(seed: int) -> None:
    question = small_case(seed, most=9)
    answer = reckon("schedule", question)
    found = sure(
        {"plans": [{"id": "kept", "question": question, "answer": answer}], "runs": 2}
    )
    told = {row["id"]: row["p50"] for row in found["plans"][0]["activities"]}
    assert told == {row["id"]: row["finish"] for row in answer["activities"]}


def test_the_chance_of_a_parcel_is_that_of_its_day() -> None:
    question = asked(work("fit", way(30, "")), deadline=at("12:00", 4))
    arrival = {
        "id": "P02/1",
        "activities": ["fit"],
        "early": at("11:30", 1),
        "likely": at("11:30", 2),
        "late": at("11:30", 6),
    }
    found = sure({"plans": [plan("kept", question)], "arrivals": [arrival]})
    exact = stats.triang(1 / 5, loc=1, scale=5).cdf(4)
    # Three standard errors of 2,000 runs.
    assert found["plans"][0]["chance"] == pytest.approx(exact, abs=0.031)


def test_the_spread_of_a_chain_is_the_sum_of_its_parts() -> None:
    chain = [
        work(f"w{n}", way(1000, ""), after=f"w{n - 1}" if n else "") for n in range(30)
    ]
    factors = {"id": "all", "activities": [f"w{n}" for n in range(30)]}
    question = asked(*chain, deadline=at("0:00", 22))
    asked_for = {
        "plans": [plan("kept", question)],
        "work": [{**factors, "early": 0.8, "likely": 1.0, "late": 1.5}],
    }
    found = sure(asked_for)["plans"][0]
    mean = 30 * 1000 * (0.8 + 4 + 1.5) / 6
    spread = np.sqrt(30) * 1000 * np.sqrt((1.05 - 0.8) * (1.5 - 1.05) / 7)
    exact = stats.norm(mean, spread).cdf(22 * 24 * 60)
    assert found["chance"] == pytest.approx(exact, abs=0.035)


def test_one_draw_for_a_family_spreads_wider_than_one_for_each() -> None:
    chain = [
        work(f"w{n}", way(100, ""), after=f"w{n - 1}" if n else "") for n in range(20)
    ]
    question = asked(*chain, deadline=at("0:00", 9))
    factors = {
        "id": "wiring",
        "activities": [f"w{n}" for n in range(20)],
        "early": 0.7,
        "likely": 1.0,
        "late": 1.6,
    }

    def width(together: bool) -> int:
        found = sure(
            {
                "plans": [plan("kept", question)],
                "work": [{**factors, "together": together}],
            }
        )
        hand = found["plans"][0]["in_hand"]
        return int(hand["p90"] - hand["p10"])

    assert width(True) > 3 * width(False)


def test_when_a_parcel_is_late_its_turn_passes_on() -> None:
    question = asked(
        work("fit", 60), work("other", 60), windows=evenings(3), deadline=at("0:00", 3)
    )
    kept = plan("kept", question)
    order = [row["id"] for row in kept["answer"]["activities"]]
    arrival = {
        "id": "P02/1",
        "activities": order[:1],
        "early": at("18:00", 1),
        "likely": at("18:00", 1),
        "late": at("18:00", 1),
    }
    found = sure({"plans": [kept], "arrivals": [arrival], "runs": 2})
    told = {row["id"]: row["p50"] for row in found["plans"][0]["activities"]}
    assert told == {order[0]: at("19:00", 1), order[1]: at("19:00")}


def test_alternatives_stand_under_the_same_draws() -> None:
    question = asked(work("fit", 60), windows=evenings(3), deadline=at("21:00", 1))
    arrival = {
        "id": "P02/1",
        "activities": ["fit"],
        "early": at("12:00"),
        "likely": at("12:00", 1),
        "late": at("12:00", 3),
    }
    without = {**question, "activities": []}
    found = sure(
        {
            "plans": [plan("a", question), plan("b", question), plan("c", without)],
            "arrivals": [arrival],
        }
    )
    first, second, third = found["plans"]
    assert first["chance"] == second["chance"] < 1
    assert third["chance"] == 1
    assert third["activities"] == []


def test_the_band_is_the_work_still_wanted_against_the_hours_there_are() -> None:
    found = sure(
        {
            "plans": [plan("kept", GLUE_AND_SAND)],
            "resource": "me",
            "days": [at("0:00"), at("19:00"), at("0:00", 1), at("0:00", 2)],
            "runs": 4,
        }
    )
    band = [(row["p50"], row["available"]) for row in found["band"]]
    # Glued until 19:40, cured at 20:40, sanded 20 minutes and 30 the day after.
    assert band == [(150, 360), (90, 300), (30, 180), (0, 0)]


def test_what_never_fits_the_hours_entered_has_no_moment() -> None:
    question = asked(work("long", 100), windows=evenings(1), deadline=at("0:00", 1))
    factor = {"id": "all", "activities": ["long"], "early": 3, "likely": 3, "late": 3}
    found = sure(
        {
            "plans": [plan("kept", question)],
            "work": [factor],
            "resource": "me",
            "runs": 2,
        }
    )
    kept = found["plans"][0]
    assert (kept["chance"], kept["finish"]["p10"]) == (0, None)
    assert kept["in_hand"]["p50"] == -120


def test_the_costliest_doubt_comes_first_and_says_what_it_costs() -> None:
    question = asked(
        work("big", way(1000, "")),
        work("small", way(10, ""), after="big"),
        work("beside", way(10, "")),
        deadline=at("19:00"),
    )
    factors = [
        {"id": n, "activities": [n], "early": 1, "likely": 1, "late": 2}
        for n in ("small", "beside", "big")
    ]
    found = sure({"plans": [plan("kept", question)], "work": factors, "most": 2})
    first, second = found["doubts"]
    assert (first["id"], second["id"]) == ("big", "small")
    # Made sure, `big` takes the sixth part of 1,000 minutes less on average.
    assert first["minutes"] == pytest.approx(1000 / 6, rel=0.1)
    assert first["chance"] > 0.5 > second["chance"] >= 0
    assert first["correlation"] > 0.9


def test_ranks_are_those_of_scipy() -> None:
    numbers = np.array([random.Random(n).randint(0, 9) for n in range(40)], dtype=float)
    assert np.array_equal(ranks(numbers), stats.rankdata(numbers))


def test_the_same_seed_gives_the_same_answer() -> None:
    factor = {"id": "x", "activities": ["glue"], "early": 1, "likely": 2, "late": 3}
    question = {"plans": [plan("kept", GLUE_AND_SAND)], "work": [factor], "runs": 50}
    assert sure(question) == sure(question)


@pytest.mark.parametrize(
    ("change", "line"),
    [
        ({"plans": []}, "plans: must have at least 1 entries"),
        ({"runs": 0}, "runs: must be at least 1"),
        ({"resource": "you"}, "resource: plan 'kept' has no resource 'you'"),
        (
            {
                "work": [
                    {"id": "x", "activities": [], "early": 2, "likely": 1, "late": 3}
                ]
            },
            "work[0]: early, likely and late do not come in this order",
        ),
        ({"days": ["soon"]}, "days[0]: 'soon' is not a time"),
        ({"seeds": 1}, "seeds: unknown field"),
    ],
)
def test_what_cannot_be_is_refused_by_name(change: dict[str, Any], line: str) -> None:
    question = {"plans": [plan("kept", GLUE_AND_SAND)], "resource": "me", **change}
    with pytest.raises(BadQuestion) as refusal:
        sure(question)
    assert refusal.value.message.startswith(line)


def test_an_answer_of_another_question_is_refused() -> None:
    other = plan("kept", asked(work("weld", 10)))
    other["question"] = GLUE_AND_SAND
    with pytest.raises(BadQuestion, match="no activity 'weld' in the question"):
        sure({"plans": [other]})


def test_a_limit_of_its_own_holds_however_soon_the_plan_is_over() -> None:
    """The end of the plan says nothing of a parcel that is out of the question."""
    printed = work("print", way(60, "mill"), due=at("0:00", 10))
    question = asked(printed, resources=[{"id": "mill"}])
    days = {"early": at("0:00", 15), "likely": at("0:00", 16), "late": at("0:00", 20)}
    late = {"id": "P02/1", "activities": ["print"], **days}
    (told,) = sure({"plans": [plan("kept", question)], "arrivals": [late]})["plans"]
    assert told["chance"] == told["activities"][0]["chance"] == 0.0
