from datetime import datetime, timedelta

import pytest

from fabshop import words
from fabshop.actions.order.parcel import Count
from fabshop.actions.order.receive import Loose, leave_shut, receive_parcel
from fabshop.errors import BadInput, Clash, NeedsAnswer, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.order import Order, OrderLine, Receipt
from fabshop.records.shop import Person
from fabshop.records.task import Task
from tests.factories import (
    AfterFactory,
    NeedFactory,
    OrderFactory,
    OrderLineFactory,
    TaskFactory,
)

HOUR = timedelta(hours=1)


@pytest.fixture
def plates(db: None) -> OrderLine:
    """P04: fourteen plates, which W61 needs, still after W46."""
    line = OrderLineFactory(
        order=OrderFactory(code="P04"), title="Stake plates", quantity_milli=14_000
    )
    rails = TaskFactory(code="W61", title="Stake rails")
    NeedFactory(task=rails, line=line)
    AfterFactory(task=rails, before=TaskFactory(code="W46", build=rails.build))
    return line


def counted(line: OrderLine, accepted: int, wrong: int = 0, why: str = "") -> Count:
    return Count(line, accepted * 1000, wrong * 1000, why or None)


def test_a_parcel_that_is_whole_frees_its_task_and_says_so(
    helper: Person, plates: OrderLine, now: datetime
) -> None:
    received = receive_parcel(
        by=helper, order=plates.order, counts=[counted(plates, 14)], now=now
    )
    assert received.freed == ("W61",)
    (sentence,) = received.sentences
    assert sentence == "Parts complete for W61 Stake rails; still after W46."
    assert (received.short, received.wrong, received.over) == ((), (), ())
    plates.order.refresh_from_db()
    assert plates.order.move == words.Move.DONE
    entry = LogEntry.objects.get()
    assert (entry.kind, entry.text) == ("received", "P04/1 Stake plates: 14 good.")


def test_a_short_parcel_frees_nothing_and_asks_about_the_rest(
    helper: Person, plates: OrderLine, now: datetime
) -> None:
    received = receive_parcel(
        by=helper, order=plates.order, counts=[counted(plates, 12)], now=now
    )
    assert received.freed == ()
    assert received.short == (Loose(1, 2000),)
    assert received.sentences == (
        "P04/1 Stake plates: 2 short. Rest coming, refunded, or make it?",
        "W61 Stake rails still wants P04.",
    )
    plates.order.refresh_from_db()
    assert plates.order.move == words.Move.FIRM


def test_lines_that_were_read_with_their_receipts_are_counted_afresh(
    owner: Person, plates: OrderLine, now: datetime
) -> None:
    read = OrderLine.objects.prefetch_related("receipts", "settlements")
    (line,) = read
    received = receive_parcel(
        by=owner, order=plates.order, counts=[counted(line, 12)], now=now
    )
    assert received.short == (Loose(1, 2000),)
    assert received.sentences[0].startswith("P04/1 Stake plates: 2 short.")


def test_row_24_more_than_ordered_is_accepted_and_said(
    owner: Person, plates: OrderLine, now: datetime
) -> None:
    received = receive_parcel(
        by=owner, order=plates.order, counts=[counted(plates, 15)], now=now
    )
    assert received.freed == ("W61",)
    assert received.over == (Loose(1, 1000),)
    assert received.sentences[0] == (
        "P04/1 Stake plates: 1 more than ordered. Keep or give back?"
    )


def test_row_27_two_lefts_are_one_left_and_one_for_the_penalty_shelf(
    owner: Person, now: datetime
) -> None:
    ducts = OrderFactory(code="P02")
    left = OrderLineFactory(order=ducts, number=1, title="Duct", hand="L")
    right = OrderLineFactory(order=ducts, number=2, title="Duct", hand="R")
    fold = TaskFactory(code="W13", title="Fold ducts")
    NeedFactory(task=fold, line=left)
    NeedFactory(task=fold, line=right)
    received = receive_parcel(
        by=owner,
        order=ducts,
        counts=[counted(left, 1), counted(right, 0, 1, "hand")],
        now=now,
    )
    assert received.freed == ()
    assert received.wrong == (Loose(2, 1000),)
    assert received.sentences == (
        "P02/2 Duct, R: 1 to the penalty shelf (wrong hand). Order again?",
        "P02/2 Duct, R: 1 short. Rest coming, refunded, or make it?",
        "W13 Fold ducts still wants P02.",
    )


def test_row_26_a_double_tap_is_answered_with_the_first_result(
    owner: Person, plates: OrderLine, now: datetime
) -> None:
    counts = [counted(plates, 14)]
    first = receive_parcel(
        by=owner, order=plates.order, counts=counts, now=now, client_id="p1"
    )
    again = receive_parcel(
        by=owner, order=plates.order, counts=counts, now=now, client_id="p1"
    )
    assert again == first
    assert Receipt.objects.count() == 1


def test_row_26_the_same_parcel_by_two_people_asks(
    owner: Person, helper: Person, plates: OrderLine, now: datetime
) -> None:
    counts = [counted(plates, 12)]
    first = receive_parcel(by=helper, order=plates.order, counts=counts, now=now)
    with pytest.raises(NeedsAnswer, match="Already booked: 12 .* by Hal at 06:45"):
        receive_parcel(by=owner, order=plates.order, counts=counts, now=now + HOUR)
    same = receive_parcel(
        by=owner, order=plates.order, counts=counts, now=now + HOUR, same_parcel=True
    )
    assert same == first
    assert Receipt.objects.count() == 1
    receive_parcel(
        by=owner, order=plates.order, counts=counts, now=now + HOUR, same_parcel=False
    )
    assert Receipt.objects.count() == 2


def test_the_same_parcel_adds_only_what_was_not_counted_before(
    owner: Person, helper: Person, plates: OrderLine, now: datetime
) -> None:
    bolts = OrderLineFactory(order=plates.order, number=2, quantity_milli=4000)
    receive_parcel(by=helper, order=plates.order, counts=[counted(plates, 14)], now=now)
    received = receive_parcel(
        by=owner,
        order=plates.order,
        counts=[counted(plates, 14), counted(bolts, 4)],
        now=now + HOUR,
        same_parcel=True,
    )
    assert [receipt.line for receipt in received.receipts] == [plates, bolts]
    assert Receipt.objects.count() == 2


def test_a_refused_count_writes_nothing(
    owner: Person, plates: OrderLine, now: datetime
) -> None:
    bolts = OrderLineFactory(order=plates.order, number=2)
    with pytest.raises(BadInput, match="-1 is less than nothing"):
        receive_parcel(
            by=owner,
            order=plates.order,
            counts=[counted(plates, 14), counted(bolts, -1)],
            now=now,
        )
    assert not Receipt.objects.exists()
    assert not LogEntry.objects.exists()


def test_an_empty_parcel_is_kept_as_nought(
    owner: Person, plates: OrderLine, now: datetime
) -> None:
    received = receive_parcel(
        by=owner, order=plates.order, counts=[counted(plates, 0)], now=now
    )
    assert received.sentences[0] == "Nothing was in it."
    assert Receipt.objects.get().counted_milli == 0


def test_a_box_left_shut_frees_nothing_until_it_is_counted(
    helper: Person, plates: OrderLine, now: datetime
) -> None:
    bolts = OrderLineFactory(order=plates.order, number=2)
    shut = leave_shut(by=helper, order=plates.order, now=now, client_id="b")
    assert [(one.line, one.kind) for one in shut] == [
        (plates, "in-the-box"),
        (bolts, "in-the-box"),
    ]
    assert leave_shut(by=helper, order=plates.order, now=now, client_id="b") == shut
    assert Task.objects.get(code="W61").state == words.TaskState.OPEN
    received = receive_parcel(
        by=helper, order=plates.order, counts=[counted(plates, 14)], now=now + HOUR
    )
    assert received.freed == ("W61",)
    # The box is open now: what was not in it is counted as nought.
    assert [(one.line, one.counted_milli) for one in received.receipts] == [
        (plates, 14_000),
        (bolts, 0),
    ]


def test_nothing_is_left_shut_where_nothing_is_owed(
    owner: Person, plates: OrderLine, now: datetime
) -> None:
    receive_parcel(by=owner, order=plates.order, counts=[counted(plates, 14)], now=now)
    with pytest.raises(Clash, match="Nothing is owed on P04 any more"):
        leave_shut(by=owner, order=plates.order, now=now)
    other = OrderLineFactory(order=OrderFactory(code="P05"), title="Pod")
    with pytest.raises(BadInput, match="P05/1 Pod is not on P04"):
        leave_shut(by=owner, order=plates.order, now=now, lines=[other])


def test_a_viewer_books_nothing(
    viewer: Person, plates: OrderLine, now: datetime
) -> None:
    with pytest.raises(NotAllowed):
        receive_parcel(by=viewer, order=plates.order, counts=[], now=now)
    with pytest.raises(NotAllowed):
        leave_shut(by=viewer, order=plates.order, now=now)
    assert Order.objects.count() == 1
