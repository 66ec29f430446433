"""The shop as it goes on from what was chosen."""

from __future__ import annotations

from fabshop import words
from fabshop.reckoning.facts import FallbackFact
from fabshop.reckoning.planning.chosen import as_chosen, with_ways
from tests.reckoning.facts_for import shop, task

CLIPS = FallbackFact("Clips", 12, points=1, uses="SP1")


def nose(**said):
    return [
        task("mould", required=False),
        task("nose", after="mould", points=12, needs="P1/1", cure=600, **said),
        task("shake", after="nose"),
    ]


def test_nothing_chosen_changes_nothing():
    facts = shop(tasks=nose(fallbacks=(CLIPS,)))
    assert as_chosen(facts) is facts


def test_a_chosen_plan_b_stands_in_place_of_the_final_way():
    facts = as_chosen(shop(tasks=nose(fallbacks=(_chosen(CLIPS),))))
    taken = facts.task_by_id["nose"]
    assert (taken.minutes, taken.points, taken.needs) == (12, 1, ())
    assert taken.after == ()
    assert taken.title == "Job nose (clips)"
    assert facts.task_by_id["mould"].state is words.TaskState.GIVEN_UP
    assert not facts.task_by_id["shake"].is_finished


def test_a_plan_b_of_no_work_is_as_good_as_done():
    facts = as_chosen(
        shop(tasks=nose(fallbacks=(FallbackFact("Keep", 0, chosen=True),)))
    )
    assert facts.task_by_id["nose"].state is words.TaskState.DONE


def test_what_led_only_to_something_given_up_is_given_up_with_it():
    given_up = words.TaskState.GIVEN_UP
    facts = as_chosen(
        shop(
            tasks=[
                task("weld", required=False),
                task("coat", after="weld", required=False),
                task("fit", after="coat", required=False, points=5, state=given_up),
                task("other", required=False),
            ]
        )
    )
    assert facts.task_by_id["weld"].state is given_up
    assert facts.task_by_id["coat"].state is given_up
    assert facts.task_by_id["other"].state is words.TaskState.OPEN


def test_ways_are_tried_without_being_chosen():
    tasks = nose(fallbacks=(CLIPS, FallbackFact("Tape", 5)), required=False)
    facts = shop(tasks=tasks)
    assert with_ways(facts, {"nose": "plan-b-2"}).task_by_id["nose"].minutes == 5
    left = with_ways(facts, {"nose": "left"}).task_by_id["nose"]
    assert left.state is words.TaskState.GIVEN_UP
    assert with_ways(facts, {}) is facts


def _chosen(way):
    return FallbackFact(way.title, way.minutes, way.points, way.uses, chosen=True)
