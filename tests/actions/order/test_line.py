from datetime import datetime
from typing import Any

import pytest

from fabshop import words
from fabshop.actions.order.line import add_line, change_line
from fabshop.errors import BadInput, Clash
from fabshop.records.order import OrderLine
from fabshop.records.shop import Person
from tests.factories import OrderFactory, OrderLineFactory, ReceiptFactory


def test_a_line_is_numbered_on_and_makes_the_order_owed_again(
    owner: Person, now: datetime
) -> None:
    order = OrderFactory(move=words.Move.DONE)
    ReceiptFactory(line=OrderLineFactory(order=order))
    add_line(
        by=owner, order=order, line={"title": "Nut", "quantity_milli": 2000}, now=now
    )
    order.refresh_from_db()
    assert order.move == words.Move.FIRM
    assert [line.number for line in order.lines.all()] == [1, 2]


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ({"title": "Nut"}, "Line 1: an order line is for more than nothing"),
        ({"title": "Nut", "quantity_milli": -1}, "Line 1, quantity: -1 is less"),
        ({"title": "Nut", "quantity_milli": 500}, "Line 1: pieces come whole"),
        ({"title": "Nut", "quantity_milli": 1000, "unit": "mile"}, "“mile” is no unit"),
        ({"title": "Nut", "quantity_milli": 1000, "hand": "X"}, "“X” is no hand"),
        ({"title": "", "quantity_milli": 1000}, "Line 1: nothing is written"),
        ({"price": 3}, "An order line has no price"),
    ],
)
def test_a_line_that_cannot_be_is_refused(
    owner: Person, now: datetime, line: dict[str, Any], why: str
) -> None:
    with pytest.raises(BadInput, match=why):
        add_line(by=owner, order=OrderFactory(), line=line, now=now)
    assert not OrderLine.objects.exists()


def test_a_line_is_never_changed_below_what_has_come(
    owner: Person, now: datetime
) -> None:
    line = OrderLineFactory(title="Nut", quantity_milli=5000)
    ReceiptFactory(line=line, counted_milli=3000, accepted_milli=3000)
    with pytest.raises(BadInput, match="Nut: 3 have come already"):
        change_line(by=owner, line=line, version=1, now=now, quantity_milli=2000)
    change_line(by=owner, line=line, version=1, now=now, quantity_milli=3000)
    line.refresh_from_db()
    assert (line.quantity_milli, line.order.move) == (3000, words.Move.DONE)
    with pytest.raises(Clash, match="has changed since you read it"):
        change_line(by=owner, line=line, version=1, now=now, title="Bolt")
