"""What the plan wants from outside, and what a day's slip costs."""

from __future__ import annotations

from fabshop.reckoning.planning.needs import line_needs
from tests.reckoning.facts_for import at
from tests.reckoning.planning.planned import p1, small_shop, story_of


def test_a_line_is_told_with_its_task_and_what_comes_in_its_place():
    facts = small_shop()
    story = story_of(facts)
    (need,) = line_needs(facts, story)
    assert (need.line, need.task) == ("P1/1", "pod")
    assert need.needed_at == story.needed["P1/1"][0]
    assert need.likely_at == at(2, 18)
    assert need.then == "pod by Plan B, Refit old pod, 4 points less"
    assert not need.is_late_too_late
    assert need.lost_minutes >= 0


def test_a_day_later_takes_what_is_not_spare():
    """The pod and the shakedown are all that is behind P1: each day is an evening."""
    facts = small_shop()
    story = story_of(facts)
    (need,) = line_needs(facts, story)
    spare = story.in_hand_minutes
    left = story.bench.minutes_until(need.needed_at) - story.bench.minutes_until(
        at(3, 18)
    )
    assert need.lost_minutes == max(0, spare - left)
    assert "one day later takes" in need.slip_words


def test_what_is_not_sent_has_days_to_send_worked_back_from_the_plan():
    facts = small_shop(orders=[p1(None)])
    (need,) = line_needs(facts, story_of(facts))
    assert need.unsent
    assert need.last_sure_on < need.likely_on
    assert (need.likely_on - need.last_sure_on).days == 2
