"""Which ways, by hours and stores alone, against every choice there is."""

from __future__ import annotations

import random
from itertools import product
from typing import Any

import pytest

from fabshop.reckoning.questions.schedule import schedule_question
from fabshop.reckoning.rough.choice import choose
from fabshop.reckoning.schedule.problem import problem_of


def question(activities: list[dict[str, Any]], hours: int = 10, **said: Any):
    return {
        "origin": "2031-05-05T00:00",
        "deadline": "2031-05-06T00:00",
        "resources": [
            {
                "id": "me",
                "windows": [["2031-05-05T06:00", f"2031-05-05T{6 + hours:02d}:00"]],
            }
        ],
        "activities": activities,
        **said,
    }


def chosen(asked, **said):
    return choose(problem_of(schedule_question(asked)), **said)


def work(name, minutes, points=0, required=False, **said):
    ways = [{"id": "final", "minutes": minutes, "points": points, "uses": {"me": 1}}]
    for number, (less, worth) in enumerate(said.pop("plan_b", ())):
        ways.append(
            {
                "id": f"plan-b-{number}",
                "minutes": less,
                "points": worth,
                "uses": {"me": 1},
            }
        )
    return {"id": name, "ways": ways, "required": required, **said}


@pytest.mark.parametrize("seed", range(25))
def test_it_is_the_best_of_all_choices(seed):
    chance = random.Random(seed)
    activities = [
        work(
            f"w{n}",
            chance.randint(30, 300),
            chance.randint(0, 9),
            required=chance.random() < 0.4,
            plan_b=[(chance.randint(10, 60), chance.randint(0, 3))]
            if chance.random() < 0.6
            else [],
        )
        for n in range(6)
    ]
    found = chosen(question(activities))
    assert found is not None
    assert found.is_proven
    assert (-found.missing, found.points) == best(activities)


def best(activities):
    """The most musts and then points of all choices within ten hours."""
    tops = []
    for ways in product(*[[None, *one["ways"]] for one in activities]):
        taken = [way for way in ways if way is not None]
        if sum(way["minutes"] for way in taken) > 600:
            continue
        missing = sum(
            one["required"] and way is None
            for one, way in zip(activities, ways, strict=True)
        )
        tops.append((-missing, sum(way.get("points", 0) for way in taken)))
    return max(tops)


def test_nothing_is_chosen_without_what_it_comes_after():
    asked = question(
        [work("a", 500), work("b", 200, 9, after=[{"id": "a"}]), work("c", 200, 5)]
    )
    found = chosen(asked)
    assert found is not None
    assert found.points == 5


def test_no_more_is_taken_than_there_is():
    activities = [work("a", 10, 5), work("b", 10, 4)]
    for one in activities:
        one["ways"][0]["takes"] = {"resin": 210}
    asked = question(activities, stores=[{"id": "resin", "amount": 410}])
    found = chosen(asked)
    assert found is not None
    assert found.points == 5


def test_what_must_be_over_early_has_only_the_hours_before():
    activities = [
        work("a", 200, 5, due="2031-05-05T08:00"),
        work("b", 100, 4, due="2031-05-05T08:00"),
    ]
    found = chosen(question(activities))
    assert found is not None
    assert found.points == 4


def test_fewer_hours_hold_less():
    asked = question([work("a", 300, 5), work("b", 300, 4)])
    points = [chosen(asked, less=less).points for less in (0, 60, 400)]
    assert points == [9, 5, 0]


def test_a_must_that_can_never_be_is_missing():
    found = chosen(question([work("a", 700, 5, required=True), work("b", 60, 1)]))
    assert found is not None
    assert (found.missing, found.points) == (1, 1)
