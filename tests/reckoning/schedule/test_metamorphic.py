"""What must be true of two questions that differ in one thing."""

from __future__ import annotations

import copy
import random
from collections.abc import Callable
from typing import Any

import pytest

from fabshop.reckoning.ask import reckon
from tests.reckoning.schedule.minutes import Shop
from tests.reckoning.schedule.small_cases import moment, small_case

Question = dict[str, Any]
Rank = tuple[int, int, int, int]
NOTHING: Rank = (-1, 0, 0, 0)


def larger_case(seed: int) -> Question:
    """Too large to try everything, small enough to prove in no time."""
    question = small_case(seed, most=9)
    for resource in question["resources"]:
        resource["capacity"] = max(1, resource["capacity"])
    return question


def rank(question: Question) -> Rank:
    """What the plan comes to; it must be proven."""
    answer = reckon("schedule", question)
    if answer["status"] == "infeasible":
        return NOTHING
    assert answer["status"] == "optimal"
    shop = Shop(question)
    return shop.rank(shop.told(answer))


def changed(question: Question, change: Callable[[Question], None]) -> Question:
    other = copy.deepcopy(question)
    change(other)
    return other


@pytest.mark.parametrize("seed", range(60))
def test_more_hours_never_worsen(seed: int) -> None:
    question = larger_case(seed)

    def more_hours(other: Question) -> None:
        for resource in other["resources"]:
            if windows := resource.get("windows"):
                windows.append([windows[-1][1], moment(60)])

    assert rank(changed(question, more_hours)) >= rank(question)


@pytest.mark.parametrize("seed", range(60))
def test_a_later_deadline_never_worsens(seed: int) -> None:
    question = larger_case(seed)
    question["deadline"] = moment(random.Random(seed).randint(5, 20))
    later = {**question, "deadline": moment(25)}
    assert rank(later) >= rank(question)


@pytest.mark.parametrize("seed", range(60))
def test_a_later_arrival_never_improves(seed: int) -> None:
    question = larger_case(seed)

    def later(other: Question) -> None:
        other["activities"][0]["ready"] = moment(12)

    def sooner(other: Question) -> None:
        other["activities"][0]["ready"] = moment(3)

    assert rank(changed(question, later)) <= rank(changed(question, sooner))


@pytest.mark.parametrize("seed", range(60))
def test_a_plan_b_added_never_lowers_what_is_reached(seed: int) -> None:
    question = larger_case(seed)
    chance = random.Random(f"plan b {seed}")
    others = [one["id"] for one in question["activities"][1:]]

    def with_plan_b(other: Question) -> None:
        other["activities"][0]["ways"].append(
            {
                "id": "plan-b",
                "minutes": chance.randint(0, 5),
                "points": chance.randint(0, 3),
                "spares": chance.sample(others, min(1, len(others))),
            }
        )

    assert rank(changed(question, with_plan_b)) >= rank(question)


@pytest.mark.parametrize("seed", range(60))
def test_other_names_change_nothing(seed: int) -> None:
    question = larger_case(seed)
    names = [one["id"] for one in question["activities"]]
    new = {name: f"z{len(names) - n}" for n, name in enumerate(names)}

    def renamed(other: Question) -> None:
        for activity in other["activities"]:
            activity["id"] = new[activity["id"]]
            befores = [
                activity["after"],
                *(w.get("after", []) for w in activity["ways"]),
            ]
            for one in (one for before in befores for one in before):
                one["id"] = new[one["id"]]
            for way in activity["ways"]:
                way["spares"] = [new[name] for name in way.get("spares", [])]

    answer = reckon("schedule", question)
    again = reckon("schedule", changed(question, renamed))
    assert again["status"] == answer["status"]
    for field in ("finish", "makespan_minutes", "points"):
        assert again[field] == answer[field]
    told = [(new[r["id"]], r["way"], r["start"]) for r in answer["activities"]]
    assert [(r["id"], r["way"], r["start"]) for r in again["activities"]] == told


@pytest.mark.parametrize("seed", range(20))
def test_a_proven_question_is_answered_the_same_again(seed: int) -> None:
    question = larger_case(seed)
    assert reckon("schedule", question) == reckon("schedule", question)
