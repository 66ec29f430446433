"""On the way: whose move it is, every word on the day, and what hangs on it."""

from datetime import date, timedelta

import pytest
from freezegun import freeze_time

from fabshop import words
from tests.factories import (
    MOMENT,
    BuildFactory,
    NeedFactory,
    OrderFactory,
    OrderLineFactory,
    PromiseFactory,
    ReceiptFactory,
    SendingFactory,
    SupplierFactory,
    TaskFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _at_the_moment():
    with freeze_time(MOMENT):
        yield


@pytest.fixture
def board(shop):
    """A power board for W21, promised for the 10th, slipped to the 18th."""
    order = OrderFactory(
        code="P06",
        title="Power board",
        supplier=SupplierFactory(name="Ostler Electric"),
        sent_on=date(2027, 8, 24),
        build=BuildFactory(name="Tuppence", slug="tuppence"),
    )
    line = OrderLineFactory(order=order, title="Board")
    for days_ago, eta in ((9, date(2027, 9, 10)), (2, date(2027, 9, 18))):
        PromiseFactory(order=order, eta_on=eta, at=MOMENT - timedelta(days=days_ago))
    task = TaskFactory(code="W21", title="Fit power board", build=order.build)
    NeedFactory(task=task, line=line)
    return order


def test_a_stranger_is_asked_to_sign_in(client, shop):
    answer = client.get("/orders/")
    assert answer.status_code == 302
    assert answer.url.startswith("/sign-in/")


def test_orders_stand_by_whose_move_it_is(client, owner, board):
    OrderFactory(code="P08", move=words.Move.ME, sent_on=None, lead_likely_days=10)
    OrderLineFactory(order__code="P09", order__move=words.Move.CARRIER)
    from_me = OrderLineFactory(order__code="P10", order__move="me", order__sent_on=None)
    client.force_login(owner)
    text = client.get("/orders/").text
    with_me, with_them = text.index("<h2>With me"), text.index("<h2>With them")
    on_the_road = text.index("<h2>On the road")
    assert with_me < with_them < on_the_road
    assert with_me < text.rindex(from_me.order.title) < with_them
    assert with_them < text.index("Power board") < on_the_road


def test_a_slipped_order_says_first_promise_and_days_late(client, owner, board):
    client.force_login(owner)
    text = client.get("/orders/").text
    assert "First promised Fri 10 Sep: 8 days late." in text
    assert "W21 hangs on it" in text


def test_orders_by_day_open_with_the_soonest(client, owner, board):
    OrderLineFactory(
        order__code="P02", order__title="Ducts", order__sent_on=MOMENT.date()
    )
    client.force_login(owner)
    text = client.get("/orders/?by=date").text
    assert text.index("<h2>Fri 10 Sep") < text.index("<h2>Sat 18 Sep")


def test_the_page_of_one_order_keeps_every_word(client, owner, board):
    client.force_login(owner)
    text = client.get("/orders/P06/").text
    assert text.index("Fri 10 Sep") < text.index("first promised")
    assert "Sat 18 Sep" in text
    assert "W21" in text


def test_row_30_they_hold_another_revision(client, owner, board):
    """Row 30: the outside file was revised after sending."""
    SendingFactory(order=board, sent_on=board.sent_on, revision="B")
    board.file_revision = "C"
    board.save()
    client.force_login(owner)
    assert "They hold revision B, yours is C." in client.get("/orders/P06/").text


def test_an_order_that_is_done_is_listed_below(client, owner, shop):
    line = OrderLineFactory(order__code="P01", order__title="Belly pan")
    ReceiptFactory(line=line)
    client.force_login(owner)
    text = client.get("/orders/").text
    assert "Nothing is on the way." in text


def test_an_unknown_order_is_not_found(client, owner):
    client.force_login(owner)
    assert client.get("/orders/P99/").status_code == 404


def test_the_list_takes_as_many_queries_for_twenty_orders(
    client, owner, board, django_assert_num_queries, django_assert_max_num_queries
):
    client.force_login(owner)
    client.get("/orders/")
    with django_assert_max_num_queries(60) as few:
        client.get("/orders/")
    for number in range(20):
        line = OrderLineFactory(order__code=f"Q{number}")
        PromiseFactory(order=line.order)
        NeedFactory(line=line, task__build=board.build, task__code=f"X{number}")
    with django_assert_num_queries(len(few)):
        client.get("/orders/")


def test_one_order_takes_as_many_queries_with_many_lines(
    client, owner, board, django_assert_num_queries, django_assert_max_num_queries
):
    client.force_login(owner)
    line = board.lines.get()
    ReceiptFactory(line=line, accepted_milli=0, counted_milli=0)
    PromiseFactory(order=board, line=line)
    client.get("/orders/P06/")
    with django_assert_max_num_queries(70) as few:
        client.get("/orders/P06/")
    for number in range(2, 12):
        more = OrderLineFactory(order=board, number=number)
        ReceiptFactory(line=more, accepted_milli=0, counted_milli=0)
        PromiseFactory(order=board, line=more)
    with django_assert_num_queries(len(few)):
        client.get("/orders/P06/")
