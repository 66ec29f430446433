"""How each goal stands in the plan, and until when its Plan B is possible."""

from __future__ import annotations

from dataclasses import replace

from fabshop.reckoning.planning.goals import stands
from fabshop.reckoning.planning.story import Story
from tests.reckoning.planning.planned import plan_of, small_shop, story_of


def test_each_goal_says_how_the_plan_has_it():
    facts = small_shop()
    found = {s.worth.task: s for s in stands(facts, story_of(facts))}
    assert {name: one.stands_at for name, one in found.items()} == {
        "pod": "final",
        "nose": "final",
        "trim": "given up",
    }
    assert found["trim"].cannot_be_had


def test_the_last_moment_for_a_plan_b_is_worked_back_from_the_plan():
    facts = small_shop()
    story = story_of(facts)
    (pod,) = [s for s in stands(facts, story) if s.worth.task == "pod"]
    (switch,) = pod.switches
    (row,) = [row for row in story.rows if row.task == "pod"]
    assert switch.last_at == story.bench.latest_start(row.latest_finish, 30)
    assert not switch.is_too_late
    assert pod.last_at == switch.last_at


def test_a_chosen_plan_b_and_a_wish_are_told():
    facts = small_shop()
    chosen = tuple(
        replace(t, fallbacks=tuple(replace(w, chosen=True) for w in t.fallbacks))
        if t.id == "pod"
        else replace(t, wished=t.id == "nose")
        for t in facts.tasks
    )
    found = {s.worth.task: s for s in stands(replace(facts, tasks=chosen), None)}
    assert (found["pod"].chosen, found["pod"].stands_at) == ("plan-b", "Plan B")
    assert found["nose"].chosen == "must"


def test_a_goal_with_something_impossible_on_its_chain_says_what():
    facts = small_shop(orders=[])
    facts = replace(
        facts,
        orders=(replace(small_shop().orders[0], given_up=True),),
    )
    plan = plan_of(facts)
    story = Story(plan["question"], plan["answer"], plan["beside"])
    (pod,) = [s for s in stands(facts, story) if s.worth.task == "pod"]
    assert pod.why == "cannot: needs P1 for pod"
    assert pod.is_plan_b
