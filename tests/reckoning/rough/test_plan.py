"""A shop's plan: the most points, and the same again on a busy machine."""

from __future__ import annotations

import random

import pytest

from fabshop.reckoning.questions.schedule import schedule_question
from fabshop.reckoning.rough.plan import plan_shop, rank
from fabshop.reckoning.schedule import plan_schedule
from tests.reckoning.rough.test_choice import best, question, work


def small(seed):
    chance = random.Random(seed)
    return [
        work(
            f"w{n}",
            chance.randint(30, 300),
            chance.randint(0, 9),
            required=chance.random() < 0.4,
            plan_b=[(chance.randint(10, 60), chance.randint(0, 3))],
        )
        for n in range(6)
    ]


def small_more():
    return [one | {"id": f"{n} {one['id']}"} for n in (4, 5) for one in small(n)]


@pytest.mark.parametrize("seed", range(5))
def test_it_is_as_good_as_the_best_of_all_choices(seed):
    asked = question(small(seed), time_limit_s=3.0)
    answer = plan_shop(asked)
    assert rank(asked, answer)[:2] == best(asked["activities"])


@pytest.mark.parametrize("seed", range(3))
def test_it_is_no_worse_than_the_planner_alone(seed):
    asked = question(small(seed + 50), time_limit_s=3.0)
    alone = plan_schedule(schedule_question(asked))
    assert rank(asked, plan_shop(asked))[:2] >= rank(asked, alone)[:2]


def test_a_gap_is_told_where_the_hours_hold_more_than_could_be_put_in_order():
    """Two that may each only begin in the same evening hour, by the hours alone fit."""
    activities = [
        work(
            "a", 60, 5, unbroken=True, ready="2031-05-05T06:30", due="2031-05-05T08:00"
        ),
        work(
            "b", 60, 4, unbroken=True, ready="2031-05-05T06:30", due="2031-05-05T08:20"
        ),
        work("c", 30, 3, required=True),
    ]
    answer = plan_shop(question(activities, time_limit_s=2.0))
    assert answer["points"] in (8, 12)
    if answer["points"] < 12:
        assert answer["status"] == "optimal" or answer["gap"]["bound"] >= 8


def test_what_is_left_out_is_told_with_a_reason():
    asked = question([work("a", 500, 5), work("b", 200, 1)], time_limit_s=2.0)
    (row,) = plan_shop(asked)["left_out"]
    assert row["activity"] == "b"
    assert row["why"]


def test_the_plan_before_stays_where_none_is_better():
    asked = question([work("a", 60, 5), work("b", 60, 5)], time_limit_s=2.0)
    first = plan_shop(asked)
    turned = {
        "activities": [
            row | {"start": other["start"], "finish": other["finish"]}
            for row, other in zip(
                first["activities"], reversed(first["activities"]), strict=True
            )
        ]
    }
    again = plan_shop(asked, turned)
    assert [row["id"] for row in again["activities"]] != [
        row["id"] for row in first["activities"]
    ]
    assert rank(asked, again) == rank(asked, first)


def test_a_question_that_is_not_proven_is_answered_the_same_again():
    asked = question(small(3) + small_more(), time_limit_s=0.5)
    assert plan_shop(asked) == plan_shop(asked)


def test_nothing_at_all_is_planned_as_nothing():
    answer = plan_shop(question([], time_limit_s=1.0))
    assert answer["activities"] == []
