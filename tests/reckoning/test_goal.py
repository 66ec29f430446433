"""Goals with a Plan B, and the last moment it can still be had, worked by hand."""

from __future__ import annotations

from fabshop.reckoning.facts import FallbackFact
from fabshop.reckoning.goal import goals
from tests.reckoning.facts_for import at, build, shop, span, task

PLAN_B = FallbackFact(title="old nose", minutes=60, points=4)


def test_the_last_switch_is_worked_back_from_pack_out_through_the_hours() -> None:
    # Evenings 18 to 21 on days 0 and 1; pack-out on day 1 at 20:00: an hour before.
    facts = shop(
        tasks=[task("nose", points=12, fallbacks=(PLAN_B,))],
        builds=(build(pack_out=at(1, 20)),),
        windows=(span(0, 18, 21), span(1, 18, 21)),
    )
    (goal,) = goals(facts)
    assert goal.last_switch == at(1, 19)
    assert (goal.points, goal.plan_b_points, goal.plan_b) == (12, 4, "old nose")


def test_what_comes_after_must_still_fit() -> None:
    # The shakedown takes the last two hours, so the Plan B must be done on day 0.
    facts = shop(
        tasks=[
            task("nose", points=12, fallbacks=(PLAN_B,)),
            task("shakedown", minutes=120, after=("nose",)),
        ],
        builds=(build(pack_out=at(1, 20)),),
        windows=(span(0, 18, 21), span(1, 18, 21)),
    )
    (goal,) = goals(facts)
    assert goal.last_switch == at(0, 20)


def test_a_chosen_plan_b_says_so_and_a_task_without_one_is_no_goal() -> None:
    chosen = FallbackFact(title="old", minutes=60, chosen=True)
    facts = shop(tasks=[task("nose", fallbacks=(chosen,)), task("sort")])
    assert [(goal.task, goal.is_chosen) for goal in goals(facts)] == [("nose", True)]
