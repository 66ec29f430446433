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
    assert (goal.plan_b_minutes, goal.is_too_late) == (60, False)


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


def test_where_the_hours_left_do_not_hold_it_the_plan_b_is_too_late() -> None:
    # Pack-out on day 0 at 18:30: half an hour of bench is left for an hour of work.
    evening = (span(0, 18, 21),)
    nose = task("nose", points=12, fallbacks=(PLAN_B,))
    over = shop(tasks=[nose], builds=(build(pack_out=at(0, 18, 30)),), windows=evening)
    (goal,) = goals(over)
    assert (goal.last_switch, goal.is_too_late) == (None, True)


def test_without_work_it_is_too_late_only_after_pack_out() -> None:
    keep = FallbackFact(title="keep ply", minutes=0)
    panels = task("panels", fallbacks=(keep,))
    for pack_out, is_too_late in ((at(0, 18), False), (at(0, 9), True)):
        facts = shop(
            tasks=[panels],
            builds=(build(pack_out=pack_out),),
            windows=(span(0, 18, 21),),
        )
        (goal,) = goals(facts)
        assert (goal.last_switch, goal.is_too_late) == (pack_out, is_too_late)


def test_where_no_pack_out_or_no_hours_are_known_it_is_not_too_late() -> None:
    nose, evening = task("nose", fallbacks=(PLAN_B,)), (span(0, 18, 21),)
    for pack_out, windows in ((None, evening), (at(9, 9), ())):
        facts = shop(tasks=[nose], builds=(build(pack_out=pack_out),), windows=windows)
        (goal,) = goals(facts)
        assert (goal.last_switch, goal.is_too_late) == (None, False)
