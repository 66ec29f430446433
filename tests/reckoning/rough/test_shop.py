"""The plan of a whole shop, its teardown in its place."""

from __future__ import annotations

from dataclasses import replace

import pytest

from fabshop.reckoning.facts import Besides, FallbackFact
from fabshop.reckoning.planning import Teardown
from fabshop.reckoning.planning.story import Story
from fabshop.reckoning.rough import shop_plan
from tests.reckoning.facts_for import at, component, day, order, shop, span, task
from tests.reckoning.planning.planned import plan_of, small_shop


def buggy(**said):
    """A pod under a lid that waits for P1; a must of its own beside it."""
    told = {
        "components": [
            component("lid"),
            component("pod", "lid", state=said.pop("state", "final")),
        ],
        "tasks": [
            task(
                "fit", fits="pod", needs="P1/1", in_teardown=True, **said.pop("fit", {})
            ),
            task("weigh", closed_up=True, in_teardown=True),
            task("other", minutes=120),
        ],
        "orders": [order("P1", sent_on=day(0), lead_likely_days=2, lead_late_days=9)],
        "windows": tuple(span(n, 18, 21) for n in range(12)),
    }
    return shop(**told | said)


def planned(facts, **said):
    plan = shop_plan(
        facts,
        Besides(),
        [Teardown("buggy")],
        time_limit_s=2.0,
        **{"late": False} | said,
    )
    return plan, Story(plan["question"], plan["answer"], plan["beside"])


def test_the_teardown_begins_with_its_last_part_and_other_work_goes_before():
    _, story = planned(buggy())
    told = [(row.task or row.do) for row in story.rows]
    assert told == ["other", "remove", "fit", "refit", "weigh"]
    assert story.rows[1].start == at(2, 18)
    assert {row.session for row in story.rows if row.task != "other"} == {"buggy"}


def test_it_is_weighed_against_a_plan_b_that_waits_for_nothing():
    plan, story = planned(buggy(fit={"fallbacks": (FallbackFact("Old pod", 60),)}))
    (instead,) = plan["beside"]["instead"]
    assert (instead["line"], instead["task"], instead["taken"]) == ("P1/1", "fit", True)
    assert story.way_of["fit"] == "plan-b"
    assert story.rows[0].start.date() == day(0)


def test_a_part_that_comes_too_late_puts_its_must_on_plan_b():
    facts = buggy(
        fit={"fallbacks": (FallbackFact("Old pod", 60),)},
        windows=tuple(span(n, 18, 21) for n in range(5)),
    )
    plan, story = planned(facts, late=True)
    assert plan["beside"]["sessions"][0]["ways"] == {"fit": "plan-b"}
    assert story.missing == ()


def test_what_is_done_for_nothing_is_left_out():
    facts = small_shop()
    idle = task("idle", minutes=30, required=False)
    story = plan_of(replace(facts, tasks=(*facts.tasks, idle)))
    assert "idle" not in {row["id"] for row in story["answer"]["activities"]}


@pytest.mark.parametrize("quick", [True, False])
def test_the_plan_before_is_kept_to(quick):
    first = plan_of(small_shop())
    like = {row["id"]: row["way"] for row in first["answer"]["activities"]}
    again = plan_of(small_shop(), kept=first["answer"], quick=quick)
    ways = {row["id"]: row["way"] for row in again["answer"]["activities"]}
    assert ways == like


def test_more_hours_never_bring_less_and_a_later_parcel_never_more():
    few = tuple(span(n, 18, 21) for n in range(3))
    points = [
        plan_of(small_shop(windows=w))["answer"]["points"] for w in (few, few * 1)
    ]
    more = plan_of(small_shop())["answer"]["points"]
    late = plan_of(small_shop(), late=True)["answer"]["points"]
    assert max(points) <= more
    assert late <= more


def test_a_plan_b_added_never_lowers_points():
    bare = small_shop()
    bare = replace(bare, tasks=tuple(replace(t, fallbacks=()) for t in bare.tasks))
    without = plan_of(bare)["answer"]["points"]
    assert plan_of(small_shop())["answer"]["points"] >= without
