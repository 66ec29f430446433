from datetime import datetime, timedelta

import pytest

from fabshop import words
from fabshop.actions.order.parcel import (
    Count,
    ask_whether_same,
    booked_before,
    refuse_impossible,
)
from fabshop.errors import BadInput, NeedsAnswer
from fabshop.records.order import OrderLine
from tests.factories import (
    OrderFactory,
    OrderLineFactory,
    PersonFactory,
    ReceiptFactory,
)

pytestmark = pytest.mark.usefixtures("shop")


@pytest.fixture
def line() -> OrderLine:
    return OrderLineFactory(
        order=OrderFactory(code="P14"), title="M2.5×6", quantity_milli=60_000
    )


@pytest.mark.parametrize(
    ("accepted", "wrong", "why", "trouble"),
    [
        (-2000, 0, None, "-2 is less than nothing. To give pieces back, use Take back"),
        (1500, 0, None, "1.5 is not a whole number of pieces"),
        (0, 500, "hand", "0.5 is not a whole number of pieces"),
        (0, 1000, None, "say what is wrong: hand, hole, size, finish or damage"),
        (0, 1000, "colour", "“colour” is not one of hand"),
        (10**13, 0, None, "is more than can be"),
    ],
)
def test_row_25_a_count_that_cannot_be_is_refused_by_its_line(
    line: OrderLine, accepted: int, wrong: int, why: str | None, trouble: str
) -> None:
    with pytest.raises(BadInput) as refused:
        refuse_impossible(line.order, [Count(line, accepted, wrong, why)])
    assert trouble in str(refused.value)
    assert str(refused.value).startswith("P14/1 M2.5×6: ")
    assert refused.value.field == "line-1"


@pytest.mark.parametrize("unit", ["m", "m2", "g", "ml"])
def test_row_25_fractions_are_for_lengths_areas_masses_and_volumes(
    line: OrderLine, unit: str
) -> None:
    line.unit = unit
    refuse_impossible(line.order, [Count(line, 1500)])


def test_row_25_nought_is_an_empty_parcel_and_nothing_at_all_is_refused(
    line: OrderLine,
) -> None:
    refuse_impossible(line.order, [Count(line)])
    with pytest.raises(BadInput, match="Of an empty box, count each line as 0"):
        refuse_impossible(line.order, [])


def test_a_line_of_another_order_is_refused(line: OrderLine) -> None:
    with pytest.raises(BadInput, match="P14/1 M2.5×6 is not on P15"):
        refuse_impossible(OrderFactory(code="P15"), [Count(line, 1000)])


def test_all_troubles_are_said_at_once(line: OrderLine) -> None:
    other = OrderLineFactory(order=line.order, number=2)
    with pytest.raises(BadInput) as refused:
        refuse_impossible(line.order, [Count(line, -1000), Count(other, 500)])
    assert [error.field for error in refused.value.errors] == ["line-1", "line-2"]


def test_the_same_count_of_the_same_day_may_be_the_same_parcel(
    line: OrderLine, now: datetime
) -> None:
    receipt = ReceiptFactory(
        line=line,
        at=now,
        counted_milli=12_000,
        accepted_milli=12_000,
        person=PersonFactory(name="Hal"),
    )
    same = [Count(line, 12_000)]
    later = now + timedelta(hours=3)
    found = booked_before(same, later)
    assert found == {1: receipt}
    with pytest.raises(NeedsAnswer) as asked:
        ask_whether_same(found, later)
    assert str(asked.value) == (
        "Already booked: 12 of P14/1 M2.5×6 by Hal at 06:45. "
        "The same parcel, or yours on top?"
    )
    assert asked.value.code == "same-parcel"
    assert booked_before([Count(line, 11_000)], later) == {}
    assert booked_before([Count(line, 12_000)], now + timedelta(days=1)) == {}


def test_an_empty_count_and_one_that_was_taken_back_are_no_parcel(
    line: OrderLine, now: datetime
) -> None:
    ReceiptFactory(line=line, at=now, counted_milli=0, accepted_milli=0)
    assert booked_before([Count(line)], now) == {}
    ReceiptFactory(line=line, at=now, parcel="a")
    ReceiptFactory(line=line, at=now, parcel="a", kind=words.ReceiptKind.TAKEN_BACK)
    assert booked_before([Count(line, 1000)], now) == {}
