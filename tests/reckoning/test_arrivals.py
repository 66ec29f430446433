"""When parcels come: words, leads, days without deliveries, and what is overdue."""

from __future__ import annotations

from datetime import timedelta

import pytest

from fabshop import words
from fabshop.reckoning.arrivals import (
    arrivals,
    last_delivery,
    last_sure_day,
    likely_day,
    order_stand,
)
from fabshop.reckoning.facts import DayFact, OrderFact
from tests.reckoning.facts_for import (
    TODAY,
    at,
    day,
    line,
    order,
    promise,
    shop,
    unsent,
)


def arrival(one: OrderFact, **said):
    return arrivals(shop(orders=[one], **said))[f"{one.id}/1"]


def test_the_current_word_is_likely_and_the_latest_is_late():
    one = order("P1", promises=(promise(2), promise(6, 9)))
    coming = arrival(one)
    assert (coming.likely_at, coming.late_at) == (at(6, 18), at(9, 18))
    assert (coming.first_on, coming.eta_on, coming.days_late) == (day(2), day(6), 4)
    assert not coming.unsent


def test_without_a_word_the_lead_days_count_from_the_day_it_was_sent():
    coming = arrival(order("P1", sent_on=day(-1)))
    assert (coming.early_at, coming.likely_at, coming.late_at) == (
        at(2, 18),
        at(4, 18),
        at(7, 18),
    )
    assert coming.basis == "no word; lead days from Sun 4 May"


def test_what_is_not_sent_comes_as_if_sent_today_and_is_marked():
    coming = arrival(unsent("P1"))
    assert (coming.likely_at, coming.late_at) == (at(5, 18), at(8, 18))
    assert coming.unsent and coming.as_if_sent_on == TODAY
    assert coming.basis == "not sent; as if sent today"


def test_a_parcel_due_on_a_day_without_deliveries_comes_on_the_next():
    days = (DayFact(day(3), has_deliveries=False), DayFact(day(4), False, False))
    coming = arrival(order("P1", promises=(promise(3),)), days=days)
    assert coming.likely_at == at(5, 18)
    assert coming.eta_on == day(3) and coming.days_late == 0
    assert coming.basis.endswith("no deliveries on Thu 8 May")


def test_it_counts_as_here_from_the_shops_own_hour():
    one = order("P1", promises=(promise(3),))
    assert arrival(one, delivery_minute=9 * 60).likely_at == at(3, 9)
    shifted = arrival(one, wall_shifts=((day(2), 60),))
    assert shifted.likely_at == at(3, 17)


def test_words_that_name_no_day_leave_the_late_lead():
    one = order("P1", promises=(promise(2), promise(None, said="next week")))
    coming = arrival(one)
    assert coming.likely_at == coming.late_at == at(8, 18)
    assert coming.said == "next week" and coming.eta_on is None
    assert "they say “next week”" in coming.basis


def test_words_without_any_lead_are_unknown():
    one = order("P1", promises=(promise(None, said="??"),), lead_late_days=None)
    coming = arrival(one)
    assert coming.likely_at is None and coming.late_at is None
    assert coming.basis == "they say “??”; no day"


def test_what_is_overdue_comes_with_the_next_delivery_at_the_earliest():
    one = order("P1", sent_on=day(-9), promises=(promise(-3, -1),))
    coming = arrival(one)
    assert coming.overdue
    assert coming.likely_at == coming.late_at == at(0, 18)
    assert coming.days_late == 3
    assert coming.basis == "due Fri 2 May, not here; taken as Mon 5 May"
    in_the_evening = arrival(one, now=at(0, 19))
    assert in_the_evening.likely_at == at(1, 18)


def test_a_promise_for_one_line_leaves_the_others():
    one = order(
        "P1",
        line("P1/1"),
        line("P1/2"),
        promises=(promise(2), promise(6, line="P1/2")),
    )
    found = arrivals(shop(orders=[one]))
    assert found["P1/1"].likely_at == at(2, 18)
    assert found["P1/2"].likely_at == at(6, 18)


def test_what_is_settled_or_given_up_is_not_owed():
    facts = shop(
        orders=[
            order("P1", line("P1/1", 2, accepted_milli=1000, written_off_milli=1000)),
            order("P2", given_up=True),
            order("P3", line("P3/1", accepted_milli=3000)),
        ]
    )
    assert arrivals(facts) == {}


def test_the_rest_of_a_short_parcel_is_unknown_until_somebody_says():
    short = line("P1/1", 2, accepted_milli=1000, came_on=day(0))
    one = order("P1", short, promises=(promise(-1),))
    assert arrival(one).likely_at is None
    assert arrival(one).basis == "nobody has said when the rest comes"
    said = line("P1/1", 2, accepted_milli=1000, came_on=day(0), rest_from=day(1))
    assert arrival(order("P1", said)).likely_at == at(6, 18)


def test_a_box_that_nobody_opened_is_here():
    coming = arrival(order("P1", line("P1/1", in_the_box=True), sent_on=day(-20)))
    assert coming.likely_at == at(0, 17) and not coming.overdue


@pytest.mark.parametrize(
    ("one", "stand"),
    [
        (unsent("P1"), words.OrderStand.NOT_SENT),
        (order("P1"), words.OrderStand.SENT),
        (order("P1", promises=(promise(2), promise(4))), words.OrderStand.SLIPPED),
        (order("P1", promises=(promise(-2),)), words.OrderStand.OWED),
        (order("P1", line("P1/1", 2, accepted_milli=1000)), words.OrderStand.SHORT),
        (
            order("P1", line("P1/1", 2, accepted_milli=1000, wrong_milli=1000)),
            words.OrderStand.NOT_AS_DRAWN,
        ),
        (order("P1", line("P1/1", in_the_box=True)), words.OrderStand.IN_THE_BOX),
        (order("P1", line("P1/1", accepted_milli=1000)), words.OrderStand.BOOKED_IN),
        (order("P1", given_up=True), words.OrderStand.GIVEN_UP),
    ],
)
def test_an_order_stands_where_its_records_say(one, stand):
    assert order_stand(one, shop(orders=[one])) is stand


def test_days_to_send_are_worked_back_from_the_moment_of_need():
    facts = shop(orders=[unsent("P1")])
    one = facts.order_by_id["P1"]
    # Needed on day 10 at noon: day 10's own delivery at 18:00 is too late.
    assert last_sure_day(one, at(10, 12), facts) == day(1)
    assert likely_day(one, at(10, 12), facts) == day(4)
    assert last_sure_day(one, at(10, 18), facts) == day(2)


def test_days_to_send_step_back_over_days_without_deliveries():
    facts = shop(orders=[unsent("P1")], days=(DayFact(day(9), has_deliveries=False),))
    one = facts.order_by_id["P1"]
    # What would land on day 9 comes on day 10 at 18:00, after the need.
    assert last_sure_day(one, at(10, 12), facts) == day(0)


def test_sent_on_the_last_sure_day_it_is_in_time_and_a_day_later_not():
    for lead in range(0, 12):
        leads = dict.fromkeys(
            ("lead_early_days", "lead_likely_days", "lead_late_days"), lead
        )
        one = unsent("P1", **leads)
        facts = shop(
            orders=[one],
            days=tuple(DayFact(day(n), False, n % 3 > 0) for n in range(40)),
        )
        need = at(20, 12)
        last = last_sure_day(one, need, facts)
        assert last is not None
        for sent_on, in_time in ((last, True), (last + timedelta(days=1), False)):
            sent = order("P1", sent_on=sent_on, **leads)
            come = arrivals(shop(orders=[sent], days=facts.days, now=at(-40, 9)))
            late_at = come["P1/1"].late_at
            assert late_at is not None
            assert (late_at <= need) is in_time


def test_without_a_lead_there_is_no_day_to_send_by():
    one = unsent("P1", lead_late_days=None, lead_likely_days=None)
    facts = shop(orders=[one])
    assert last_sure_day(one, at(10, 12), facts) is None
    assert arrivals(facts)["P1/1"].basis == "no lead days and no word: unknown"


def test_the_last_delivery_before_a_moment_skips_days_without_any():
    facts = shop(days=(DayFact(day(9), has_deliveries=False),))
    assert last_delivery(facts, at(9, 12)) == at(8, 18)
    assert last_delivery(facts, at(8, 18)) == at(8, 18)
    assert last_delivery(facts, at(8, 17)) == at(7, 18)
