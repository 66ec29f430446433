"""Gate parts and tasks outside are named with their days, each once."""

from __future__ import annotations

from fabshop import words
from fabshop.reckoning.batching import Gate, teardown_batch
from tests.reckoning.facts_for import (
    at,
    component,
    done,
    line,
    order,
    promise,
    shop,
    task,
)


def planned(id, **said):
    return task(id, in_teardown=True, **said)


def batch(tasks, orders=(), parts=(), **said):
    return teardown_batch(shop(tasks, parts, orders), "buggy", **said)


def test_a_gate_is_every_line_a_task_needs_in_hand_or_not():
    orders = [
        order("P1", line("P1/1", accepted_milli=1000)),
        order("P2", promises=(promise(2, 4),)),
    ]
    found = batch([planned("A", needs="P1/1 P2/1 C01")], orders)
    assert found.gates == (
        Gate("P1/1", "A", None, None, in_hand=True),
        Gate("P2/1", "A", at(2, 18), at(4, 18), in_hand=False),
    )


def test_a_line_that_a_task_outside_wants_is_a_gate_through_it():
    orders = [order("P1", promises=(promise(2, 4),))]
    tasks = [
        task("X", needs="P1/1"),
        task("Y", after="X"),
        planned("A", after="Y"),
        planned("B", after="A"),
    ]
    assert batch(tasks, orders).gates == (
        Gate("P1/1", "A", at(2, 18), at(4, 18), in_hand=False, through="X"),
    )


def test_what_others_want_before_packing_is_no_gate_of_the_teardown():
    orders = [order("P1")]
    tasks = [task("X", needs="P1/1"), planned("A", after="X", closed_up=True)]
    assert batch(tasks, orders).gates == ()


def test_a_hold_outside_whose_zone_would_be_closed_is_waited_for():
    parts = (component("loom", "seat"), component("seat"))
    tasks = [task("H", is_hold=True, reach="loom"), planned("A", fits="seat")]
    (wait,) = batch(tasks, parts=parts).waits
    assert (wait.task, wait.on, wait.binds) == ("A", "H", True)


def test_a_failed_hold_outside_is_dated_by_nobody():
    tasks = [
        done("H", is_hold=True, hold=words.HoldVerdict.FAILED),
        planned("A", after="H"),
    ]
    found = batch(tasks)
    assert [(w.on, w.done_at, w.binds) for w in found.waits] == [("H", None, True)]
    assert found.notes == ("A comes after H Job H: nobody knows when it is done",)


def test_finished_tasks_are_waited_for_no_more():
    assert batch([done("X"), planned("A", after="X")]).waits == ()


def test_what_still_cures_keeps_its_place_open_and_is_said():
    parts = (component("seat"), component("lid"))
    tasks = [
        done("G", keeps_open="seat", cured_at=at(1, 6)),
        done("O", keeps_open="lid", cured_at=at(-1, 6)),
        planned("A", fits="seat"),
    ]
    found = batch(tasks, parts=parts)
    assert found.notes == ("G cures until Tue 6 May 06:00: seat must stay off",)
    assert found.question["tasks"][0]["ready"] == "2031-05-06T06:00"
