"""What each goal costs, by the hours alone."""

from __future__ import annotations

from fabshop.reckoning.rough.plan import plan_shop
from fabshop.reckoning.rough.price import prices, wished
from tests.reckoning.rough.test_choice import question, work


def asked():
    return question(
        [
            work("must", 60, required=True),
            work("cab", 500, 6, plan_b=[(60, 2)]),
            work("dash", 240, 5),
            work("lamps", 240, 4),
            work("boat", 700, 9),
        ],
        time_limit_s=2.0,
    )


def test_a_goal_costs_the_points_that_the_hours_then_hold_no_more():
    told = prices(asked(), plan_shop(asked()))
    assert told["cab"] == {"points": 6, "best": 11, "minutes": 560}


def test_a_goal_that_no_hours_hold_has_no_price():
    assert prices(asked(), plan_shop(asked()))["boat"] == {"points": None, "best": 11}


def test_what_the_plan_has_needs_none():
    assert "dash" not in prices(asked(), plan_shop(asked()))


def test_a_wish_is_a_must_in_its_final_way():
    (cab,) = [a for a in wished(asked(), "cab")["activities"] if a["id"] == "cab"]
    assert cab["required"]
    assert [way["id"] for way in cab["ways"]] == ["final"]
