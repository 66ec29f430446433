from datetime import datetime
from typing import Any

import pytest

from fabshop import words
from fabshop.actions.order.parcel import Count
from fabshop.actions.order.said import (
    count_words,
    said_of_lines,
    said_of_order,
    said_of_tasks,
)
from fabshop.records.order import OrderLine
from tests.factories import (
    NeedFactory,
    OrderFactory,
    OrderLineFactory,
    ReceiptFactory,
    SendingFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def line() -> OrderLine:
    return OrderLineFactory(
        order=OrderFactory(code="P02", title="Ducts"), title="Duct", hand="R"
    )


def test_a_count_is_kept_in_words(line: OrderLine) -> None:
    assert count_words(Count(line, 1000)) == "P02/1 Duct, R: 1 good."
    assert count_words(Count(line, 0, 1000, "hand", "two lefts")) == (
        "P02/1 Duct, R: 0 good, 1 wrong (wrong hand). two lefts"
    )


def test_wrong_short_and_too_many_are_said(line: OrderLine) -> None:
    assert list(said_of_lines([Count(line, 0, 1000, "hand")])) == [
        "P02/1 Duct, R: 1 to the penalty shelf (wrong hand). Order again?",
        "P02/1 Duct, R: 1 short. Rest coming, refunded, or make it?",
    ]
    ReceiptFactory(line=line, counted_milli=3000, accepted_milli=3000)
    assert list(said_of_lines([Count(line, 3000)])) == [
        "P02/1 Duct, R: 2 more than ordered. Keep or give back?"
    ]


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"given_up": True}, "P02 Ducts was given up: keep it or send it back."),
        ({"sent_on": None}, "P02 was never marked as sent."),
        ({"file_revision": "C"}, "They hold revision B, yours is C."),
    ],
)
def test_what_is_odd_about_the_order_is_said(
    line: OrderLine, now: datetime, fields: dict[str, Any], says: str
) -> None:
    order = line.order
    SendingFactory(order=order, revision="B")
    if fields.pop("given_up", False):
        fields["given_up_at"] = now
    for name, value in fields.items():
        setattr(order, name, value)
    assert list(said_of_order(order, [Count(line, 1000)])) == [says]


def test_an_empty_parcel_is_said(line: OrderLine) -> None:
    assert list(said_of_order(line.order, [Count(line)])) == ["Nothing was in it."]


def test_row_28_what_comes_for_work_that_is_done_or_for_none_is_said(
    line: OrderLine,
) -> None:
    count = [Count(line, 1000)]
    assert list(said_of_tasks(count)) == ["P02/1 Duct, R: no task wants it."]
    need = NeedFactory(line=line, task__code="W13")
    assert list(said_of_tasks(count)) == []
    need.task.state = words.TaskState.DONE
    need.task.save()
    assert list(said_of_tasks(count)) == [
        "P02/1 Duct, R: W13 done already. "
        "Swap it in, keep it as a spare, or send it back."
    ]
