"""The kept plan in sentences."""

from __future__ import annotations

from dataclasses import replace

import pytest

from fabshop.reckoning.planning.telling import (
    by_plan,
    gap_words,
    late_words,
    lead,
    missing_words,
    of_hundred,
)
from fabshop.reckoning.readiness import start_now
from tests.reckoning.facts_for import span, task
from tests.reckoning.planning.planned import small_shop, story_of


def test_the_lead_says_when_what_is_in_hand_and_the_points():
    told = lead(story_of(small_shop()))
    assert told.startswith("Pack-out is made ")
    assert told.endswith(" in hand. 13 of 22 points.")


def test_too_few_hours_are_said_plainly_with_the_reason():
    facts = small_shop(tasks=[task("big", minutes=900)], windows=(span(0, 18, 21),))
    story = story_of(facts)
    assert lead(story).startswith(
        "Pack-out is not made: 1 must cannot be done in time."
    )
    ((name, title, why),) = missing_words(story)
    assert (name, title) == ("big", "Job big")
    assert why
    assert late_words(story) == (
        "With every parcel on its late day 1 must cannot be done: big."
    )


def test_the_late_side_is_told_with_its_points():
    told = late_words(story_of(small_shop(), late=True))
    assert told.startswith("With every parcel on its late day: 13 points")
    assert late_words(None) == ""


def test_how_far_it_is_proven():
    story = story_of(small_shop())
    for aim, words in (("points", "more than 15 points"), ("finish", "sooner finish")):
        story.answer["gap"] = {"aim": aim, "reached": 13, "bound": 15}
        assert words in gap_words(story)
    story.answer["gap"] = {"aim": "required", "reached": 1, "bound": 2}
    assert "not proven" in gap_words(story)
    del story.answer["gap"]
    assert gap_words(story) == "No better plan exists."


@pytest.mark.parametrize(
    ("chance", "words"),
    [(1.0, "99 in 100"), (0.584, "58 in 100"), (0.001, "less than 1 in 100")],
)
def test_a_chance_is_never_certain(chance, words):
    assert of_hundred(chance) == words


def test_what_can_be_started_stands_in_the_order_of_the_plan():
    facts = small_shop()
    story = story_of(facts)
    told = [one.task for one in by_plan(start_now(facts), story)]
    assert told[-1] == "trim"
    assert told[0] == next(r.task for r in story.rows if r.task in told)
    assert replace(facts) == facts
