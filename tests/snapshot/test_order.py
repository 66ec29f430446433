"""Lines are told with what their receipts and settlements add up to."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from fabshop import words
from fabshop.snapshot import order_facts, plan_clock
from fabshop.snapshot.order import live_orders
from tests.factories import (
    MOMENT,
    BuildFactory,
    ComponentFactory,
    NeedFactory,
    OrderFactory,
    OrderLineFactory,
    PromiseFactory,
    ReceiptFactory,
    SendingFactory,
    SettlementFactory,
    ShopFactory,
    TaskFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def line():
    ShopFactory()
    return OrderLineFactory(order__code="P02", number=1, quantity_milli=3000)


def told(line):
    (order,) = order_facts([line.order], plan_clock(MOMENT))
    return order.lines[0]


def counted(line, accepted, wrong=0, **said):
    return ReceiptFactory(
        line=line,
        counted_milli=accepted + wrong,
        accepted_milli=accepted,
        wrong_milli=wrong,
        wrong_why=words.WrongWhy.HAND if wrong else "",
        **said,
    )


def test_counts_add_up_and_what_is_taken_back_comes_off(line):
    counted(line, 2000, 1000)
    counted(line, 1000, at=MOMENT + timedelta(days=1))
    counted(line, 2000, kind=words.ReceiptKind.TAKEN_BACK)
    fact = told(line)
    assert (fact.accepted_milli, fact.wrong_milli) == (1000, 1000)
    assert fact.owed_milli == 2000
    assert fact.came_on == date(2027, 9, 4)


def test_a_box_left_shut_stays_shut_until_somebody_counts(line):
    unopened = {"counted_milli": 0, "accepted_milli": 0}
    ReceiptFactory(line=line, kind=words.ReceiptKind.IN_THE_BOX, **unopened)
    fact = told(line)
    assert fact.in_the_box and fact.came_on is None and fact.owed_milli == 3000
    counted(line, 3000, at=MOMENT + timedelta(minutes=5))
    assert not told(line).in_the_box


def test_what_was_refunded_or_ordered_again_is_not_owed(line):
    again = OrderLineFactory(order__code="P03", number=1)
    SettlementFactory(line=line, how=words.Settled.REFUNDED, quantity_milli=500)
    SettlementFactory(
        line=line,
        how=words.Settled.REORDERED,
        quantity_milli=1000,
        reordered_on=again,
    )
    SettlementFactory(line=line, quantity_milli=1500, is_taken_back=True)
    fact = told(line)
    assert (fact.written_off_milli, fact.owed_milli) == (1500, 1500)
    assert fact.reordered == (("P03/1", 1000),)


def test_that_the_rest_follows_is_no_write_off(line):
    SettlementFactory(line=line, how=words.Settled.COMING, quantity_milli=1000)
    fact = told(line)
    assert fact.owed_milli == 3000 and fact.rest_from == date(2027, 9, 3)


def test_what_finished_tasks_used_is_told(line):
    for state in words.TaskState:
        NeedFactory(line=line, task=TaskFactory(state=state), quantity_milli=400)
    done = TaskFactory(state=words.TaskState.DONE)
    NeedFactory(line=line, task=done, quantity_milli=None)
    assert told(line).taken_milli == 800


def test_promises_are_told_in_the_order_they_were_given(line):
    for days, eta in ((1, 9), (0, 8), (2, None)):
        PromiseFactory(
            order=line.order,
            line=line if days == 1 else None,
            eta_on=eta and date(2027, 9, eta),
            said="" if eta else "soon",
            at=MOMENT + timedelta(days=days),
        )
    (order,) = order_facts([line.order], plan_clock(MOMENT))
    assert [p.eta_on and p.eta_on.day for p in order.promises] == [8, 9, None]
    assert [p.line for p in order.promises] == ["", "P02/1", ""]
    assert order.promises[-1].said == "soon"


def test_the_revision_that_they_hold_is_the_last_one_sent(line):
    for revision, taken_back in (("A", False), ("B", False), ("C", True)):
        SendingFactory(order=line.order, revision=revision, is_taken_back=taken_back)
    (order,) = order_facts([line.order], plan_clock(MOMENT))
    assert order.sent_revision == "B"


def test_an_order_is_told_as_it_is():
    ShopFactory()
    build = BuildFactory(slug="tuppence")
    part = ComponentFactory(build=build, code="T18")
    order = OrderFactory(build=build, given_up_at=MOMENT, file_revision="D")
    OrderLineFactory(order=order, component=part, unit=words.Unit.METRE)
    (fact,) = order_facts([order], plan_clock(MOMENT))
    assert fact.build == "tuppence" and fact.given_up
    assert fact.supplier == order.supplier.name
    assert (fact.file_revision, fact.made_on) == ("D", date(2027, 9, 3))
    assert fact.lines[0].component == "T18"
    assert fact.lines[0].unit is words.Unit.METRE


def test_live_are_those_under_way_of_a_live_build_or_needed():
    build = BuildFactory()
    done = {"move": words.Move.DONE}
    OrderFactory(code="under-way")
    OrderFactory(code="of-build", build=build, **done)
    OrderFactory(code="old", **done)
    OrderFactory(code="given-up", given_up_at=MOMENT)
    needed = OrderLineFactory(order__code="needed", order__move=words.Move.DONE)
    again = OrderLineFactory(order__code="again", order__move=words.Move.DONE)
    SettlementFactory(line=needed, how=words.Settled.REORDERED, reordered_on=again)
    found = sorted(order.code for order in live_orders([build], [needed.pk]))
    assert found == ["again", "needed", "of-build", "under-way"]
