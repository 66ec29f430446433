"""An order goes to the event, and back to the shop."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop.actions.drawing import send_to_event
from fabshop.errors import Clash, NotAllowed
from fabshop.records.order import Order
from fabshop.records.shop import Person

pytestmark = pytest.mark.django_db


def test_there_and_back(order: Order, owner: Person, now: datetime) -> None:
    assert send_to_event(by=owner, order=order, now=now).to_event
    with pytest.raises(Clash, match="goes to the event already"):
        send_to_event(by=owner, order=order, now=now)
    assert not send_to_event(by=owner, order=order, back=True, now=now).to_event
    with pytest.raises(Clash, match="goes to the shop already"):
        send_to_event(by=owner, order=order, back=True, now=now)


def test_only_the_owner_says_so_and_not_of_what_was_given_up(
    order: Order, owner: Person, helper: Person, now: datetime
) -> None:
    with pytest.raises(NotAllowed):
        send_to_event(by=helper, order=order, now=now)
    Order.objects.filter(pk=order.pk).update(given_up_at=now)
    with pytest.raises(Clash, match="given up"):
        send_to_event(by=owner, order=order, now=now)
