"""Only what can truly be started is offered, the most urgent first."""

from __future__ import annotations

from fabshop import words
from fabshop.reckoning.facts import DayFact
from fabshop.reckoning.readiness import start_now
from tests.reckoning.facts_for import (
    NOW,
    at,
    build,
    component,
    done,
    line,
    order,
    shop,
    span,
    task,
)

OPEN = (span(0, 16, 21), span(1, 18, 21))


def names(tasks, parts=(), orders=(), minutes=None, who=None, **said):
    facts = shop(tasks, parts, orders, **{"windows": OPEN, **said})
    found = start_now(facts, minutes_available=minutes, who=who)
    return [one.task for one in found]


def test_what_is_blocked_in_any_way_is_not_offered():
    tasks = [
        task("A", needs="P1/1"),
        task("B", after="A"),
        task("C", fits="seat"),
        task("D", state=words.TaskState.UNDER_WAY),
        done("E"),
        task("F"),
        task("G", reach="lid"),
    ]
    parts = [component("seat"), component("lid")]
    assert names(tasks, parts, [order("P1")]) == ["F", "G"]


def test_what_takes_longer_than_there_is_time_is_left_out():
    tasks = [task("A", minutes=41), task("B", minutes=40), task("C", left=10)]
    assert names(tasks, minutes=40) == ["C", "B"]


def test_the_day_by_which_a_must_has_to_begin_comes_first():
    tasks = [
        task("A", required=False, points=50, minutes=20),
        task("B", minutes=20),
        task("C", minutes=20),
        task("D", after="C", minutes=300),
    ]
    assert names(tasks)[0] == "C", "what D leaves it is less than what B has"
    assert names(tasks)[-1] == "A", "nothing that must be done hangs on it"


def test_then_the_points_per_hour_of_the_whole_chain():
    may = {"required": False}
    tasks = [
        task("A", minutes=10, **may),
        task("B", after="A", minutes=50, points=5, **may),
        task("C", minutes=60, points=6, **may),
        task("D", minutes=60, points=1, **may),
    ]
    found = start_now(shop(tasks, windows=OPEN))
    assert [one.task for one in found] == ["C", "A", "D"]
    assert [one.points_per_hour for one in found] == [6.0, 5.0, 1.0]
    assert found[0].start_by is None


def test_hours_that_begin_later_today_are_told_by_the_clock_alone():
    (one,) = start_now(shop([task("A", minutes=20)], windows=(span(0, 18, 21),)))
    assert one.sentence == "no teardown, 20 min, from 18:00"


def test_out_of_hours_the_same_tasks_are_told_with_when_hours_begin():
    facts = shop([task("A", minutes=200)], windows=(span(1, 18, 21),))
    (one,) = start_now(facts)
    assert one.starts_at == at(1, 18)
    assert one.sentence == (
        "no teardown, 3 h 20, from Tue 6 May 18:00; hours end 21:00 before it is done"
    )


def test_it_says_why_it_can_be_started():
    here = order("P1", line("P1/1", accepted_milli=1000))
    tasks = [task("A", needs="P1/1", reach="lid", minutes=70)]
    (one,) = start_now(shop(tasks, [component("lid")], [here], windows=OPEN))
    assert one.sentence == "parts here, its place is open, 1 h 10"
    assert one.starts_at == NOW


def test_a_helper_starts_in_the_helpers_own_hours():
    helping = (("Hal", span(1, 10, 12)),)
    facts = shop([task("A")], windows=(span(0, 16, 21),), helper_windows=helping)
    (one,) = start_now(facts, who="Hal")
    assert one.starts_at == at(1, 10)
    assert start_now(facts)[0].starts_at == NOW


def test_noisy_work_is_told_when_quiet_hours_end():
    days = (DayFact(NOW.date(), quiet_until=at(0, 19)),)
    (one,) = start_now(shop([task("A", noisy=True)], windows=OPEN, days=days))
    assert one.starts_at == at(0, 19)


def test_without_hours_or_pack_out_it_still_answers():
    facts = shop([task("A")], windows=(), builds=(build(pack_out=None),))
    (one,) = start_now(facts)
    assert (one.start_by, one.starts_at) == (None, NOW)
