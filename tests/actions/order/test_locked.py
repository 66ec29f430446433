from datetime import datetime

import pytest

from fabshop.actions.order.locked import locked_order, order_of, refuse_moved
from fabshop.errors import Clash
from tests.factories import LogEntryFactory, OrderFactory

pytestmark = pytest.mark.django_db


def test_the_first_answer_is_the_order_of_the_entry(now: datetime) -> None:
    order = OrderFactory()
    assert order_of(LogEntryFactory(order=order)) == order
    with pytest.raises(Clash, match="already used for something else"):
        order_of(LogEntryFactory(order=None))


def test_an_order_that_moved_since_it_was_read_is_said_so() -> None:
    order = OrderFactory(code="P05", title="Pod", version=4)
    refuse_moved(locked_order(order), 4)
    with pytest.raises(Clash, match="P05 Pod has changed since you read it") as moved:
        refuse_moved(order, 3)
    assert moved.value.code == "has-moved"
