"""What hangs on a line: who wants it, who follows, hours, points, the teardown."""

from __future__ import annotations

from fabshop.reckoning.readiness import Hanging, hangs_on
from tests.reckoning.facts_for import done, finished, line, order, shop, task


def test_tasks_and_all_that_follow_them_hang_on_a_line():
    tasks = [
        task("A", needs="P1/1", minutes=60, points=2),
        task("B", after="A", minutes=30, points=3, in_teardown=True),
        task("C", after="B", minutes=10, points=1),
        task("D", minutes=500, points=50),
        done("E", after="A", points=9),
    ]
    facts = shop(
        tasks,
        orders=[order("P1")],
        finished=tuple(finished("other", 90, 90, 90, 90, 90)),
    )
    assert hangs_on(facts) == {
        "P1/1": Hanging(
            line="P1/1",
            tasks=("A",),
            following=("B", "C"),
            minutes=150,
            points=6,
            teardown=True,
        )
    }


def test_a_line_for_nothing_still_asks_why_it_is_coming():
    found = hangs_on(shop([task("A")], orders=[order("P1")]))
    assert found == {"P1/1": Hanging(line="P1/1")}


def test_what_has_come_holds_nothing_up():
    here = order("P1", line("P1/1", accepted_milli=1000))
    assert hangs_on(shop([task("A", needs="P1/1")], orders=[here])) == {}


def test_packing_at_the_end_does_not_make_a_line_hold_up_the_teardown():
    tasks = [
        task("A", needs="P1/1"),
        task("Z", after="A", in_teardown=True, closed_up=True),
    ]
    assert not hangs_on(shop(tasks, orders=[order("P1")]))["P1/1"].teardown


def test_a_task_that_wants_the_line_itself_is_not_counted_twice():
    tasks = [task("A", needs="P1/1"), task("B", after="A", needs="P1/1")]
    found = hangs_on(shop(tasks, orders=[order("P1")]))["P1/1"]
    assert (found.tasks, found.following, found.minutes) == (("A", "B"), (), 120)


def test_a_given_up_order_is_owed_nothing_but_still_holds_up():
    found = hangs_on(
        shop([task("A", needs="P1/1")], orders=[order("P1", given_up=True)])
    )
    assert found["P1/1"].tasks == ("A",)
