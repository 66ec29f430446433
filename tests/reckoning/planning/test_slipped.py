"""What another day does to the plan: said before it is saved."""

from __future__ import annotations

from datetime import timedelta

from fabshop.reckoning.arrivals import last_delivery
from fabshop.reckoning.planning.needs import line_needs
from fabshop.reckoning.planning.slipped import slip_in_plan
from fabshop.units import show_minutes, show_moment
from tests.reckoning.facts_for import day
from tests.reckoning.planning.planned import p1, small_shop, story_of


def test_a_day_that_work_can_wait_for_says_what_is_left_in_hand():
    facts = small_shop()
    story = story_of(facts)
    (need,) = line_needs(facts, story)
    on = need.likely_at.date() + timedelta(days=1)
    (told,) = slip_in_plan(facts, story, "P1", eta_on=on)
    left = story.in_hand_minutes - need.lost_minutes
    assert told.startswith(f"Was {show_minutes(story.in_hand_minutes)} in hand")
    assert show_minutes(left) in told or "stays so" in told


def test_s4_too_late_names_the_last_hour_and_the_choices():
    facts = small_shop()
    story = story_of(facts)
    was, choose = slip_in_plan(facts, story, "P1", eta_on=day(20))
    assert "now impossible with this part for pod" in was
    assert choose.startswith("Choose by ")
    assert "Refit old pod" in choose


def test_a_word_without_a_day_counts_the_late_lead_or_is_never():
    facts = small_shop()
    told = slip_in_plan(facts, story_of(facts), "P1", eta_on=None, said="soon")
    assert told[0].startswith("Was ")


def test_what_the_plan_goes_without_moves_nothing():
    facts = small_shop(orders=[p1(None)])
    story = story_of(facts)
    assert slip_in_plan(facts, story, "P9", eta_on=day(3)) == (
        "The plan goes without P9: nothing in it moves.",
    )


def test_the_last_hour_is_the_last_delivery_before_it_is_needed():
    facts = small_shop()
    story = story_of(facts)
    (need,) = line_needs(facts, story)
    told = slip_in_plan(facts, story, "P1", eta_on=day(20))
    last = last_delivery(facts, need.needed_at)
    assert last.date() == need.holds_until
    assert f"Choose by {show_moment(last)}: " in told[1]
