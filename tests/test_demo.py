"""The demo shop, as of Friday 2027-09-03 at 06:45, gives the figures that are known.

The figures come from the tables of the demo shop, by throw-away reckoning and by two
independent exact methods for the teardown; times may differ by five minutes where it
matters whether each task is rounded to whole minutes.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest

from fabshop import words
from fabshop.reckoning.arrivals import order_stand
from fabshop.reckoning.ask import reckon
from fabshop.reckoning.batching import default_tasks, teardown_batch
from fabshop.reckoning.facts import Facts
from fabshop.reckoning.hours import hours_summary
from fabshop.reckoning.readiness import (
    blocked_by_undelivered,
    hangs_on,
    readiness,
    start_now,
)
from fabshop.reckoning.readiness.shut import shut_in
from fabshop.reckoning.tonight import Head, tonight
from fabshop.records.order import Order
from fabshop.records.task import Task
from fabshop.snapshot import digest, take
from tests.factories import MOMENT

SUNDAY = datetime(2027, 9, 19, 10, 0)
FIVE = timedelta(minutes=5)
JOBS = ("W14", "W20", "W21", "W22", "W23", "W24", "W25", "W27", "W29", "W30")


@pytest.fixture
def facts(demo) -> Facts:
    return take(MOMENT)


@pytest.fixture
def all_else_here(facts) -> Facts:
    """Every parcel in the shop but the pod and the board, all other work done."""
    orders = tuple(
        replace(
            order,
            lines=tuple(
                replace(line, accepted_milli=line.quantity_milli, in_the_box=False)
                for line in order.lines
            ),
        )
        if order.id not in ("P05", "P06")
        else order
        for order in facts.orders
    )
    tasks = tuple(
        task if task.in_teardown else replace(task, state=words.TaskState.DONE)
        for task in facts.tasks
    )
    return replace(facts, orders=orders, tasks=tasks)


def answered(facts, **said):
    batch = teardown_batch(facts, "tuppence", **said)
    answer = reckon("teardown", {**batch.question, "time_limit_s": 60})
    assert answer["status"] == "optimal"
    return answer


def near(moment, expected):
    return abs(datetime.fromisoformat(moment) - expected) <= FIVE


def test_the_whole_shop_is_loaded(facts):
    of_build = [part.build for part in facts.components]
    assert (of_build.count("tuppence"), of_build.count("gannet")) == (34, 27)
    assert Order.objects.count() == 25
    # W19 and W31 are the teardown itself and no tasks; 20 were Sparrow's.
    assert len(facts.tasks) == 68 == Task.objects.count() - 20
    assert sum(span.end > facts.now for span in facts.windows) == 18


# 1. Hours.


def test_hours_there_are_and_hours_that_are_wanted(facts):
    summary = hours_summary(facts)
    assert summary.calendar_minutes == 82 * 60
    hours = {build: m / 60 for build, m in summary.first_guess_minutes.items()}
    assert hours == {"tuppence": 38.0, "gannet": 60.0, "": 5.3}
    assert summary.first_guess_total / 60 == 103.3
    assert round(summary.factored_minutes / 60, 1) == 126.0


def test_factors_are_what_sparrow_taught(facts):
    known = hours_summary(facts).factors
    assert {family: round(one.factor, 3) for family, one in known.items()} == {
        "composite": 1.4,
        "welding": 1.3,
        "wiring": 1.2,
        "other": 1.1,
    }
    assert all(one.bites and one.finished == 5 for one in known.values())


# 2. What comes off for the batch, and for the jobs one by one.


def handling(facts, codes):
    tasks = [facts.task_by_id[code] for code in codes]
    together = replace(
        tasks[0],
        reach=tuple(name for task in tasks for name in task.reach),
        remove=tuple(name for task in tasks for name in task.remove),
        fits=tuple(name for task in tasks for name in task.fits),
    )
    shut = shut_in(together, facts)
    on = sum(facts.component_by_id[name].on_minutes or 0 for name in shut.components)
    return set(shut.components), shut.minutes, on


def test_the_closure_of_the_batch(facts):
    off, minutes_off, minutes_on = handling(facts, JOBS)
    assert " ".join(sorted(off)) == (
        "T02 T03 T04 T08 T09 T10 T11 T12 T13 T14 "
        "T17 T18 T20 T21 T23 T26 T27 T31 T32 T34"
    )
    assert (minutes_off, minutes_on) == (148, 200)


def test_batching_saves_223_minutes(facts):
    singly = [handling(facts, [code]) for code in JOBS if code != "W23"]
    off, on = sum(one[1] for one in singly), sum(one[2] for one in singly)
    assert (off, on) == (245, 326)
    assert off + on - (148 + 200) == 223


# 3. and 5. The teardown.

# Task, minutes, reach, remove, fits, cure, keeps open, after.
TABLE = """
W14 53 - - T31,T32 0 - -
W20 53 - - T18 0 - -
W21 50 - - T17 0 - -
W22 173 - - T13 0 - W20,W21
W23 43 T13,T17,T18 - - 0 T02,T10,T11,T14,T20 W22
W24 50 - T11,T14 T33 600 T11,T14 -
W25 106 - T23 - 0 - -
W27 26 - - T10 0 - W23
W29 20 - - T12 0 - W23
W30 59 - - T09 720 T08 W23,W27
W32 99 - - - 0 - -
W39 33 - - - 0 - -
W40 53 - - - 0 - W32,W39
W70 158 - - - 0 - W40
"""


def test_the_teardown_by_default(facts):
    codes = tuple(row.split()[0] for row in TABLE.split("\n") if row)
    assert default_tasks(facts, "tuppence") == codes
    assert default_tasks(facts, "gannet") == ()
    batch = teardown_batch(facts, "tuppence")
    assert batch.offered == ("W07", "W11")
    assert batch.unknown_minutes == ()


@pytest.mark.parametrize("row", [row for row in TABLE.split("\n") if row])
def test_the_teardown_is_asked_task_by_task(facts, row):
    code, minutes, reach, remove, fits, cure, keeps_open, after = row.split()

    def names(text):
        return [] if text == "-" else text.split(",")

    question = teardown_batch(facts, "tuppence").question
    (asked,) = [task for task in question["tasks"] if task["id"] == code]
    assert asked["minutes"] == int(minutes)
    assert (asked["reach"], asked["remove"]) == (names(reach), names(remove))
    assert (asked["fits"], asked["cure"]) == (names(fits), int(cure))
    assert asked["keeps_open"] == names(keeps_open)
    assert asked["after"] == names(after)
    assert asked["unbroken"] == (code in ("W23", "W24", "W30"))
    assert asked["closed"] == (code in ("W32", "W39", "W40", "W70"))
    assert asked["for_good"] == (code == "W30")


def test_the_pod_and_the_board_come_when_their_firms_say(facts):
    tasks = teardown_batch(facts, "tuppence").question["tasks"]
    ready = {task["id"]: task.get("ready") for task in tasks}
    assert ready["W20"] == "2027-09-16T18:00"
    assert ready["W21"] == "2027-09-18T18:00"


def test_begun_on_sunday_at_ten_it_may_wait_two_hours(all_else_here):
    answer = answered(all_else_here, begin=SUNDAY, prefer="late_start")
    (session,) = answer["sessions"]
    assert session["start"] == "2027-09-19T10:00"
    assert near(session["latest_start"], datetime(2027, 9, 19, 12, 2))
    assert abs(answer["choices"][0]["in_hand_minutes"] - 122) <= 5
    assert answer["totals"]["handling_minutes"] == 247
    assert answer["left_out"] == []


def test_begun_on_sunday_at_ten_it_can_end_on_wednesday_morning(all_else_here):
    answer = answered(all_else_here, begin=SUNDAY, prefer="early_finish")
    (session,) = answer["sessions"]
    assert near(session["finish"], datetime(2027, 9, 22, 9, 23))
    assert answer["totals"]["handling_minutes"] == 247


def test_a_task_that_fits_a_part_absorbs_putting_it_on(all_else_here):
    answer = answered(all_else_here, begin=SUNDAY)
    steps = answer["sessions"][0]["steps"]
    minutes = {"remove": 0, "task": 0, "refit": 0}
    for step in steps:
        minutes[step["do"]] += step["minutes"]
    assert minutes == {"remove": 148, "task": 976, "refit": 99}


def test_asked_on_friday_morning_it_begins_when_the_board_is_here(facts):
    answer = answered(facts)
    (session,) = answer["sessions"]
    assert session["start"] == "2027-09-19T10:00"
    assert near(session["latest_start"], datetime(2027, 9, 19, 12, 2))
    assert answer["left_out"] == []


def test_with_the_board_on_its_late_day_it_cannot_be_fitted(all_else_here):
    answer = answered(all_else_here, begin=SUNDAY, dates="late", wait_for="each")
    left_out = {one["task"] for one in answer["left_out"]}
    assert left_out == {"W21", "W22", "W23", "W27", "W29", "W30"}


def test_gates_name_every_part_the_teardown_waits_for(facts):
    gates = teardown_batch(facts, "tuppence").gates
    assert {(gate.line, gate.task, gate.through) for gate in gates} == {
        ("P03/1", "W14", "W13"),
        ("P05/1", "W20", ""),
        ("P06/1", "W21", ""),
        ("P08/1", "W29", ""),
        ("P09/1", "W24", ""),
        ("P12/1", "W25", ""),
        ("P17/1", "W30", ""),
        ("P24/1", "W22", "W15"),
    }
    assert not any(gate.in_hand for gate in gates)


def test_the_accepted_plan_is_told_apart_by_a_digest(facts):
    later = replace(facts, now=facts.now + timedelta(days=3))
    assert digest(later, "tuppence") == digest(facts, "tuppence")


# 6. Whose move, and until when.


def test_the_figure_scan_goes_out_tonight(facts):
    first = tonight(facts).heads[0]
    assert first.head is Head.SEND_TONIGHT
    assert first.order == "P08"
    sends = {send.order: send for send in tonight(facts).sends}
    assert set(sends) == {"P03", "P07", "P08", "P19", "P23"}
    assert sends["P08"].last_sure_on == date(2027, 9, 4)
    assert sends["P08"].likely_on == date(2027, 9, 10)


# 12. Left and right.


def test_every_left_has_its_right(facts):
    twins = {part.id: part.twin for part in facts.components if part.twin}
    assert len(twins) == 2 * 7
    assert all(twins[twin] == part for part, twin in twins.items())
    assert twins["T31"] == "T32" and twins["G21"] == "G22"
    sides = {part.id: part.side for part in facts.components if part.twin}
    assert all(
        {sides[part], sides[twin]} == {words.Side.LEFT, words.Side.RIGHT}
        for part, twin in twins.items()
    )


def test_two_lefts_came_and_the_right_is_still_wanted(facts):
    left, right = facts.order_by_id["P02"].lines
    assert (left.hand, left.accepted_milli) == (words.Hand.LEFT, 1000)
    assert (right.hand, right.accepted_milli) == (words.Hand.RIGHT, 0)
    reasons = readiness(facts)["W13"].reasons
    wanted = [line for reason in reasons for line in reason.lines]
    assert wanted == ["P03/1"]


# 16. What is blocked by what has not come.


def test_twenty_one_tasks_are_blocked_by_undelivered_lines(facts):
    blocked = {ready.task for ready in blocked_by_undelivered(facts)}
    assert " ".join(sorted(blocked)) == (
        "W04 W13 W15 W20 W21 W24 W25 W29 W30 W33 W37 W43 W45 W47 W49 W54 W58 W61 "
        "W63 W64 W65"
    )


def test_two_orders_are_needed_by_no_task(facts):
    idle = {line for line, hanging in hangs_on(facts).items() if not hanging.tasks}
    assert idle == {"P22/1", "P25/1"}


def test_orders_stand_where_the_story_left_them(facts):
    stand = {order.id: order_stand(order, facts) for order in facts.orders}
    assert stand["P03"] is words.OrderStand.NOT_SENT
    assert stand["P05"] is stand["P06"] is words.OrderStand.SLIPPED
    assert stand["P09"] is words.OrderStand.SENT
    assert stand["P10"] is stand["P14"] is words.OrderStand.BOOKED_IN


def test_a_received_parcel_frees_its_task(facts):
    orders = tuple(
        replace(order, lines=(replace(order.lines[0], accepted_milli=1000),))
        if order.id == "P16"
        else order
        for order in facts.orders
    )
    at_the_bench = datetime(2027, 9, 4, 9, 0)
    free = readiness(replace(facts, orders=orders, now=at_the_bench))
    assert free["W33"].why is words.Why.READY
    assert readiness(replace(facts, now=at_the_bench))["W33"].why is (
        words.Why.WANTS_PARTS
    )


def test_forty_minutes_are_enough_for_what_is_only_to_be_sent(facts):
    short = {one.task for one in start_now(facts, minutes_available=40)}
    assert {"W12", "W28", "W38"} <= short
    everything = {one.task for one in start_now(facts)}
    assert "W34" in everything - short
