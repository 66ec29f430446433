"""The head says what matters most first, with days worked back from the need."""

from __future__ import annotations

from fabshop import words
from fabshop.reckoning.tonight import ByPlan, Head, TeardownStand, to_send, tonight
from tests.reckoning.facts_for import (
    at,
    build,
    day,
    line,
    order,
    promise,
    shop,
    task,
    unsent,
)


def sends(*orders, tasks, **said):
    return to_send(shop(tasks, orders=orders), **said)


def heads(facts, **said):
    return [(one.head, one.sentence) for one in tonight(facts, **said).heads]


def test_days_to_send_are_worked_back_from_what_the_chain_leaves():
    # Pack-out is day 12 at noon: A, an hour, begins by 20:00 on day 11.
    (send,) = sends(unsent("P1"), tasks=[task("A", needs="P1/1")])
    assert (send.task, send.needed_at) == ("A", at(11, 20))
    assert (send.last_sure_on, send.likely_on) == (day(3), day(6))
    assert not send.is_tonight
    assert send.sentence == (
        "P1 Things P1: last sure day Thu 8 May, likely Sun 11 May, for A"
    )


def test_a_plan_that_needs_it_sooner_makes_it_tonights():
    # Needed on day 9 at 10:00, so here on day 8 at 18:00: sent today even late.
    (send,) = sends(
        unsent("P1"), tasks=[task("A", needs="P1/1")], planned={"A": at(9, 10)}
    )
    assert send.last_sure_on == day(0) and send.is_tonight


def test_the_day_before_the_last_sure_day_is_tonight_too():
    tasks = [task("A", needs="P1/1")]
    (send,) = sends(unsent("P1"), tasks=tasks, planned={"A": at(10, 10)})
    assert send.last_sure_on == day(1) and send.is_tonight
    (send,) = sends(unsent("P1"), tasks=tasks, planned={"A": at(11, 10)})
    assert not send.is_tonight


def test_what_is_past_its_days_says_so():
    tasks = [task("A", needs="P1/1")]
    (send,) = sends(unsent("P1"), tasks=tasks, planned={"A": at(7, 10)})
    assert send.sentence == (
        "P1 Things P1: last sure day was Sat 3 May, likely in time until Tue 6 May"
    )
    (send,) = sends(unsent("P1"), tasks=tasks, planned={"A": at(5, 10)})
    assert send.likely_on == day(-1) and send.is_tonight
    assert send.sentence == (
        "P1 Things P1: too late for A even with the likely lead, since Mon 5 May"
    )


def test_the_task_that_needs_it_first_counts():
    tasks = [task("A", needs="P1/1"), task("B", needs="P1/1")]
    (send,) = sends(unsent("P1"), tasks=tasks, planned={"B": at(10, 10)})
    assert send.task == "B"


def test_only_what_is_with_the_owner_and_owed_is_to_send():
    orders = [
        order("P1"),
        unsent("P2", given_up=True),
        unsent("P3", line("P3/1", accepted_milli=1000)),
        unsent("P4", line("P4/1", in_the_box=True)),
        unsent("P5"),
        order("P6", move=words.Move.ME),
    ]
    found = sends(*orders, tasks=[])
    assert [one.sentence for one in found] == [
        "P5 Things P5: not sent, and no open task needs it",
        "P6 Things P6: your move",
    ]


def test_without_leads_or_pack_out_no_day_is_made_up():
    bare = unsent("P1", lead_likely_days=None, lead_late_days=None)
    (send,) = sends(bare, tasks=[task("A", needs="P1/1")])
    assert send.sentence.endswith("no day to send it by is known")
    facts = shop(
        [task("A", needs="P1/1")],
        orders=[unsent("P1")],
        builds=(build(pack_out=None),),
    )
    assert to_send(facts)[0].last_sure_on is None


def test_what_must_be_sent_tonight_stands_above_all_else():
    orders = [
        order("P1", line("P1/1", in_the_box=True)),
        order("P2", promises=(promise(-2),), sent_on=day(-5)),
        order("P3", promises=(promise(0),)),
        unsent("P4"),
        unsent("P5"),
    ]
    tasks = [task("A", needs="P4/1"), task("B", needs="P5/1")]
    soon = TeardownStand("buggy", "Buggy", at(1, 18), 57)
    facts = shop(tasks, orders=orders)
    found = heads(facts, planned={"A": at(9, 10)}, teardowns=(soon,))
    assert [head for head, _ in found] == [
        Head.SEND_TONIGHT,
        Head.START_BY,
        Head.OPEN_BOX,
        Head.OVERDUE,
        Head.ARRIVING,
        Head.SEND,
    ]
    assert [sentence for _, sentence in found[1:5]] == [
        "Buggy: start the teardown by Tue 6 May 18:00, 57 min in hand",
        "Open it: P1 Things P1 is here, still in the box",
        "Overdue: P2 Things P2, due Sat 3 May, not here; taken as Mon 5 May",
        "Comes today: P3 Things P3",
    ]


def test_a_teardown_days_away_stands_below_what_presses():
    far = TeardownStand("buggy", "Buggy", at(6, 18), 57)
    facts = shop(orders=[order("P1", promises=(promise(0),))])
    found = heads(facts, teardowns=(far,))
    assert [head for head, _ in found] == [Head.ARRIVING, Head.START_BY]


def test_a_teardown_that_should_have_begun_says_by_how_much():
    late = TeardownStand("buggy", "Buggy", at(-1, 18), -70)
    begun = TeardownStand("buggy", "Buggy", at(-1, 18), -70, has_begun=True)
    assert heads(shop(), teardowns=(late, begun)) == [
        (
            Head.START_BY,
            "Buggy: start the teardown by Sun 4 May 18:00, 1 h 10 too late",
        )
    ]


def test_three_tasks_to_start_and_no_more():
    tasks = [task(f"A{n}", minutes=10 * n) for n in range(1, 6)]
    assert len(tonight(shop(tasks)).start) == 3
    few = tonight(shop(tasks), minutes_available=20)
    assert [one.task for one in few.start] == ["A1", "A2"]


def test_what_the_plan_goes_without_is_dated_apart_and_never_tonights():
    tasks = [task("A", needs="P1/1")]
    (send,) = sends(
        unsent("P1"),
        tasks=tasks,
        planned={"A": at(7, 10)},
        by_plan=ByPlan(without=frozenset({"P1"})),
    )
    assert not send.is_tonight
    assert send.sentence == (
        "P1 Things P1: last sure day Thu 8 May, likely Sun 11 May, for A; "
        "the plan goes without it"
    )


def test_a_line_is_dated_by_the_plans_own_need_and_task():
    tasks = [task("A", needs="P1/1"), task("B", needs="P1/1")]
    (send,) = sends(
        unsent("P1"),
        tasks=tasks,
        planned={"A": at(7, 10)},
        by_plan=ByPlan(needed={"P1/1": (at(10, 10), "B")}),
    )
    assert (send.task, send.needed_at) == ("B", at(10, 10))
    assert send.last_sure_on == day(1)


def test_the_teardown_of_a_plan_says_how_long_it_can_wait():
    stand = TeardownStand("b", "Boat", at(3, 12), 21, in_plan=True)
    assert stand.sentence.endswith("it can wait 21 min")
