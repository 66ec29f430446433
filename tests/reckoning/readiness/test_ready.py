"""A stamp is the weightiest reason; what a task waits for says when it is free."""

from __future__ import annotations

from datetime import timedelta

from fabshop import words
from fabshop.reckoning.readiness import blocked_by_undelivered, readiness, stamp
from tests.reckoning.facts_for import (
    NOW,
    TODAY,
    at,
    day,
    done,
    order,
    promise,
    shop,
    span,
    task,
    unsent,
)

OPEN = (span(0, 16, 21), span(1, 18, 21))


def test_nothing_in_the_way_is_ready_now():
    ready = readiness(shop([task("A")], windows=OPEN))["A"]
    assert (ready.why, ready.reasons, ready.free_at) == (words.Why.READY, (), NOW)


def test_every_unfinished_task_has_its_stamp_and_no_finished_one():
    tasks = [
        task("A"),
        done("B"),
        task("C", state=words.TaskState.GIVEN_UP),
        task("D", state=words.TaskState.UNDER_WAY, after="A"),
        task("E", needs="P1/1", after="A"),
    ]
    ready = readiness(shop(tasks, orders=[order("P1")], windows=OPEN))
    assert {name: one.why for name, one in ready.items()} == {
        "A": words.Why.READY,
        "D": words.Why.UNDER_WAY,
        "E": words.Why.WANTS_PARTS,
    }
    assert ready["D"].reasons[0].why is words.Why.AFTER_ANOTHER


def test_finished_tasks_have_stamps_of_their_own():
    assert stamp(done("A"), ()) is words.Why.DONE
    assert stamp(task("A", state=words.TaskState.ACCEPTED), ()) is words.Why.DONE
    given_up = task("A", state=words.TaskState.GIVEN_UP)
    assert stamp(given_up, ()) is words.Why.GIVEN_UP


def test_likely_and_late_are_both_told_and_unknown_is_said_as_unknown():
    known = order("P1", promises=(promise(2, 6),))
    unknown = order("P2", promises=(promise(None, said="?"),), lead_late_days=None)
    tasks = [task("A", needs="P1/1"), task("B", needs="P2/1")]
    ready = readiness(shop(tasks, orders=[known, unknown]))
    assert (ready["A"].free_at, ready["A"].free_late) == (at(2, 18), at(6, 18))
    assert ready["B"].reasons and ready["B"].free_at is None


def test_wanting_since_the_first_promise_or_since_the_order_was_made():
    tasks = [
        task("A", needs="P1/1"),
        task("B", needs="P2/1"),
        task("C", needs="P1/1 P2/1"),
        task("D", needs="P3/1"),
        task("E"),
    ]
    orders = [
        order("P1", promises=(promise(-4), promise(3))),
        unsent("P2", made_on=day(-9)),
        order("P3", sent_on=day(-1)),
    ]
    ready = readiness(shop(tasks, orders=orders))
    since = {name: one.since for name, one in ready.items()}
    assert since == {
        "A": day(-4),
        "B": day(-9),
        "C": day(-9),
        "D": day(-1),
        "E": None,
    }


def test_blocked_are_those_that_want_parts_the_longest_wait_first():
    orders = [order(f"P{n}", promises=(promise(n),)) for n in (1, 2)]
    unknown = order("P3", promises=(promise(None, said="?"),), lead_late_days=None)
    tasks = [task(f"A{n}", needs=f"P{n}/1") for n in (1, 2, 3)] + [task("Z")]
    blocked = blocked_by_undelivered(shop(tasks, orders=[*orders, unknown]))
    assert [one.task for one in blocked] == ["A3", "A2", "A1"]


def test_tomorrow_is_as_true_as_today():
    tasks = [task("A", needs="P1/1")]
    one = order("P1", sent_on=TODAY, promises=(promise(1),))
    later = NOW + timedelta(days=1, hours=2)
    ready = readiness(shop(tasks, orders=[one], now=later))["A"]
    assert ready.free_at == at(2, 18), "it did not come at 18:00, so tomorrow"
