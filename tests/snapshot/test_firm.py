"""What a firm finished is carried across: first promised against last counted."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest

from fabshop import words
from fabshop.records.order import Order
from fabshop.records.shop import Shop
from fabshop.snapshot import plan_clock
from fabshop.snapshot.firm import firm_slips
from tests.factories import (
    OrderFactory,
    OrderLineFactory,
    PromiseFactory,
    ReceiptFactory,
)

pytestmark = pytest.mark.django_db


def finished(now: datetime, **fields: object) -> Order:
    order: Order = OrderFactory(move=words.Move.DONE, **fields)
    PromiseFactory(order=order, eta_on=date(2027, 9, 1), at=now)
    PromiseFactory(order=order, eta_on=date(2027, 9, 9), at=now + timedelta(hours=1))
    line = OrderLineFactory(order=order)
    for days in (-3, 0):
        ReceiptFactory(line=line, at=now + timedelta(days=days))
    return order


def test_the_first_promise_against_the_last_count(shop: Shop, now: datetime) -> None:
    done = finished(now)
    coming = OrderFactory(supplier=done.supplier)
    (slip,) = firm_slips([coming], plan_clock(now), now.date())
    assert slip.order == done.code
    assert (slip.promised_on, slip.arrived_on) == (date(2027, 9, 1), date(2027, 9, 3))


def test_what_is_not_finished_or_long_ago_or_of_others_does_not_count(
    shop: Shop, now: datetime
) -> None:
    done = finished(now)
    finished(now, supplier=done.supplier, given_up_at=now)
    finished(now, supplier=done.supplier, sent_on=date(2025, 1, 1))
    finished(now)
    OrderFactory(supplier=done.supplier, move=words.Move.DONE)
    found = firm_slips(
        [OrderFactory(supplier=done.supplier)], plan_clock(now), now.date()
    )
    assert [slip.order for slip in found] == [done.code]


def test_it_is_one_query_whatever_there_is(
    shop: Shop, now: datetime, django_assert_num_queries: object
) -> None:
    orders = [finished(now) for _ in range(6)]
    clock = plan_clock(now)
    with django_assert_num_queries(1):  # type: ignore[operator]
        assert len(firm_slips(orders, clock, now.date())) == 6
