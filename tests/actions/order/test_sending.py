from datetime import date, datetime, timedelta
from typing import Any

import pytest

from fabshop import words
from fabshop.actions.order.sending import mark_sent, promise, take_back_sending
from fabshop.errors import BadInput, Clash, NeedsAnswer, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.order import Order, Promise, Sending
from fabshop.records.shop import Person
from tests.factories import OrderFactory, OrderLineFactory, ReceiptFactory

TODAY = date(2027, 9, 3)


@pytest.fixture
def figure(db: None) -> Order:
    order = OrderFactory(code="P08", sent_on=None, move=words.Move.ME)
    OrderLineFactory(order=order)
    return order


@pytest.fixture
def pod(db: None) -> Order:
    order = OrderFactory(code="P05", sent_on=date(2027, 8, 24))
    OrderLineFactory(order=order)
    return order


def test_sending_starts_the_lead_clock_on_the_shops_day(
    owner: Person, figure: Order, now: datetime
) -> None:
    late = datetime(2027, 9, 2, 23, 30, tzinfo=now.tzinfo)
    sending = mark_sent(by=owner, order=figure, now=now, at=late, client_id="s")
    figure.refresh_from_db()
    # 23:30 UTC is half past midnight of the third in London.
    assert (figure.sent_on, figure.move) == (TODAY, words.Move.FIRM)
    assert mark_sent(by=owner, order=figure, now=now, client_id="s") == sending
    with pytest.raises(Clash, match="P08 was sent on Fri 3 Sep already"):
        mark_sent(by=owner, order=figure, now=now)


def test_what_is_on_the_road_at_once_is_the_carriers(
    owner: Person, figure: Order, now: datetime
) -> None:
    mark_sent(by=owner, order=figure, now=now, to="carrier", on=date(2027, 9, 1))
    figure.refresh_from_db()
    assert (figure.sent_on, figure.move) == (date(2027, 9, 1), words.Move.CARRIER)


def test_nothing_is_sent_tomorrow_or_by_a_helper(
    owner: Person, helper: Person, figure: Order, now: datetime
) -> None:
    with pytest.raises(BadInput, match="Sat 4 Sep has not come yet; today is Fri 3"):
        mark_sent(by=owner, order=figure, now=now, on=date(2027, 9, 4))
    with pytest.raises(BadInput, match="with them or on the road"):
        mark_sent(by=owner, order=figure, now=now, to="me")
    with pytest.raises(NotAllowed):
        mark_sent(by=helper, order=figure, now=now)


def test_the_revision_is_asked_for_when_the_file_has_changed_since(
    owner: Person, figure: Order, now: datetime
) -> None:
    Order.objects.update(file_name="figure.stl")
    with pytest.raises(NeedsAnswer, match="Which revision of figure.stl went out?"):
        mark_sent(by=owner, order=figure, now=now)
    Order.objects.update(file_revision="B")
    assert mark_sent(by=owner, order=figure, now=now).revision == "B"
    Order.objects.update(file_revision="C")
    with pytest.raises(NeedsAnswer) as asked:
        mark_sent(by=owner, order=figure, now=now)
    assert str(asked.value) == (
        "They were sent revision B, the file here is C. Which went out now?"
    )
    assert asked.value.field == "revision"
    again = mark_sent(by=owner, order=figure, now=now, revision="C")
    assert again.revision == "C"
    assert LogEntry.objects.filter(kind="file-sent").count() == 2


def test_not_sent_after_all_stops_the_clock_and_keeps_what_was_said(
    owner: Person, figure: Order, now: datetime
) -> None:
    mark_sent(by=owner, order=figure, now=now)
    take_back_sending(by=owner, order=figure, now=now)
    figure.refresh_from_db()
    assert (figure.sent_on, figure.move) == (None, words.Move.ME)
    assert Sending.objects.get().is_taken_back
    with pytest.raises(Clash, match="P08 is not sent, so there is nothing"):
        take_back_sending(by=owner, order=figure, now=now)


def test_taking_back_a_second_sending_leaves_the_first(
    owner: Person, figure: Order, now: datetime
) -> None:
    first = date(2027, 9, 1)
    mark_sent(by=owner, order=figure, now=now, on=first, revision="A")
    later = now + timedelta(minutes=1)
    mark_sent(by=owner, order=figure, now=later, revision="B")
    take_back_sending(by=owner, order=figure, now=later)
    figure.refresh_from_db()
    assert (figure.sent_on, figure.move) == (first, words.Move.FIRM)


def test_every_promise_is_kept(owner: Person, pod: Order, now: datetime) -> None:
    promise(by=owner, order=pod, now=now, eta_on=date(2027, 9, 7))
    promise(
        by=owner,
        order=pod,
        now=now,
        eta_on=date(2027, 9, 16),
        latest_on=date(2027, 9, 18),
        client_id="p",
    )
    promise(by=owner, order=pod, now=now, said="next week??")
    assert [p.eta_on for p in pod.promises.all()] == [
        date(2027, 9, 7),
        date(2027, 9, 16),
        None,
    ]
    entry = LogEntry.objects.get(client_id="p")
    assert entry.text == "due Thu 16 Sep, latest Sat 18 Sep"
    assert promise(by=owner, order=pod, now=now, said="x", client_id="p").eta_on


@pytest.mark.parametrize(
    ("days", "field", "why"),
    [
        (
            {"eta_on": date(2027, 8, 23)},
            "eta_on",
            "Due Mon 23 Aug, but sent Tue 24 Aug: it cannot come before it was sent.",
        ),
        (
            {"eta_on": date(2027, 9, 16), "latest_on": date(2027, 9, 15)},
            "latest_on",
            "Latest Wed 15 Sep is before the day it is due, Thu 16 Sep.",
        ),
        (
            {"latest_on": date(2027, 9, 15)},
            "eta_on",
            "Say the day it is due too, not only the latest.",
        ),
        ({"said": " "}, "eta_on", "Say a day, or their words."),
    ],
)
def test_row_19_days_that_cannot_be_are_refused(
    owner: Person, pod: Order, now: datetime, days: Any, field: str, why: str
) -> None:
    with pytest.raises(BadInput) as refused:
        promise(by=owner, order=pod, now=now, **days)
    assert (str(refused.value), refused.value.field) == (why, field)
    assert not Promise.objects.exists()


def test_row_22_an_order_not_sent_has_no_day_but_may_have_words(
    owner: Person, figure: Order, now: datetime
) -> None:
    with pytest.raises(BadInput) as refused:
        promise(by=owner, order=figure, now=now, eta_on=date(2027, 9, 9))
    assert str(refused.value) == (
        "The clock starts when it is sent: P08 is not sent yet."
    )
    promise(by=owner, order=figure, now=now, said="ten days, more or less")


def test_nothing_is_promised_of_what_has_come_or_was_given_up(
    owner: Person, pod: Order, figure: Order, now: datetime
) -> None:
    with pytest.raises(BadInput, match="is not a line of P05"):
        promise(by=owner, order=pod, line=figure.lines.get(), now=now, said="x")
    ReceiptFactory(line=pod.lines.get())
    with pytest.raises(Clash, match="Nothing is owed on P05 any more"):
        promise(by=owner, order=pod, now=now, eta_on=date(2027, 9, 9))
    Order.objects.update(given_up_at=now)
    with pytest.raises(Clash, match="was given up Fri 3 Sep 06:45"):
        promise(by=owner, order=pod, now=now, eta_on=date(2027, 9, 9))
