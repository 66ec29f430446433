"""What went out is remembered drawing by drawing."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime

import pytest

from fabshop.actions.drawing import held_of
from fabshop.actions.order import mark_sent, take_back_sending
from fabshop.records.drawing import Drawing
from fabshop.records.order import Order
from fabshop.records.shop import Person
from tests.actions.drawing.conftest import part

pytestmark = pytest.mark.django_db


def test_the_revision_that_is_said_went_out_not_the_newest(
    order: Order, put: Callable[..., Drawing], owner: Person, now: datetime
) -> None:
    first = put(1, part())
    put(1, part(scale=1.1))
    mark_sent(by=owner, order=order, now=now, revision="A")
    assert held_of(order) == {first.line_id: first}


def test_not_sent_after_all_they_hold_nothing(
    order: Order, put: Callable[..., Drawing], owner: Person, now: datetime
) -> None:
    put(1, part())
    mark_sent(by=owner, order=order, now=now)
    take_back_sending(by=owner, order=order, now=now)
    assert held_of(order) == {}
