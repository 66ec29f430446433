"""What a new plan does to the one before it."""

from __future__ import annotations

from dataclasses import replace

from fabshop import words
from fabshop.reckoning.planning.change import change_sentence, way_words
from tests.reckoning.facts_for import span
from tests.reckoning.planning.planned import plan_of, small_shop


def test_fewer_hours_are_told_with_what_they_take():
    facts = small_shop()
    fewer = small_shop(windows=tuple(span(n, 18, 21) for n in (0, 1, 2, 3)))
    told = change_sentence(plan_of(facts), plan_of(fewer), fewer)
    assert told.startswith("in hand ")
    assert " becomes " in told


def test_the_same_again_changes_nothing():
    plan = plan_of(small_shop())
    told = change_sentence(plan, plan, small_shop())
    assert told.startswith("in hand stays ")
    assert ";" not in told


def test_another_way_is_named():
    few = small_shop(windows=(span(0, 18, 21), span(1, 18, 21)))
    told = change_sentence(plan_of(small_shop()), plan_of(few), few)
    assert "13 points become 9" in told
    assert "pod Plan B, was final" in told


def test_work_under_way_is_never_moved_in_silence():
    begun = [
        replace(task, state=words.TaskState.UNDER_WAY) if task.id == "mould" else task
        for task in small_shop().tasks
    ]
    before = small_shop(tasks=begun)
    after = small_shop(
        tasks=begun, windows=tuple(span(n, 18, 21) for n in range(2, 12))
    )
    told = change_sentence(plan_of(before), plan_of(after), after)
    assert "mould, under way, goes on" in told


def test_ways_in_words():
    assert [way_words(w) for w in ("final", "plan-b-2", "left", "")] == [
        "final",
        "Plan B",
        "given up",
        "given up",
    ]
