"""A kept plan told from its own data."""

from __future__ import annotations

from datetime import datetime

from fabshop.reckoning.planning.story import Story, is_cure
from tests.reckoning.facts_for import PACK_OUT, at
from tests.reckoning.planning.planned import small_shop, story_of


def test_the_work_is_told_in_order_with_its_cures_and_points():
    story = story_of(small_shop())
    assert story.missing == ()
    assert story.points == 13
    assert story.most_points == 22
    first = story.rows[0]
    assert first.start == at(0, 18)
    (mould,) = [row for row in story.rows if row.task == "mould"]
    assert mould.cured is not None
    assert [row.task for row in story.rows][-1] == "shake"


def test_hours_used_and_in_hand_add_up_where_nothing_waits():
    story = story_of(small_shop())
    assert story.worked_minutes == 60 + 60 + 30 + 90
    assert story.hours_minutes == 12 * 180
    assert story.deadline == PACK_OUT
    assert story.in_hand_minutes == story.bench.minutes_until(
        PACK_OUT
    ) - story.bench.minutes_until(story.finish)


def test_a_line_is_needed_by_the_last_start_of_what_waits_for_it():
    story = story_of(small_shop())
    by, task = story.needed["P1/1"]
    assert task == "pod"
    assert by == story.latest_starts["pod"]
    assert by > at(2, 18)


def test_what_is_left_out_has_no_way():
    story = story_of(small_shop())
    assert story.way_of["trim"] == ""
    assert story.way_of["pod"] == "final"
    assert "trim" not in story.starts


def test_an_empty_answer_is_told_as_nothing():
    question = {"origin": "2031-05-05T17:00", "activities": [], "resources": []}
    story = Story(question, {"activities": [], "points": 0}, {})
    assert (story.rows, story.in_hand_minutes, story.deadline) == ((), None, None)
    assert story.origin == datetime(2031, 5, 5, 17)
    assert is_cure("W1~cured")
