"""A left is held against the right of its order, or of its twin elsewhere."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from fabshop import words
from fabshop.actions.drawing import hands_of
from fabshop.records.drawing import Drawing
from fabshop.records.order import Order
from tests.actions.drawing.conftest import part
from tests.factories import ComponentFactory, OrderLineFactory

pytestmark = pytest.mark.django_db
Put = Callable[..., Drawing]


def test_on_one_order_the_other_hand_is_found(put: Put) -> None:
    left, right = put(1, part()), put(2, part(flip=-1))
    assert hands_of(left) == (right, words.Mirror.MIRRORED)
    assert hands_of(right) == (left, words.Mirror.MIRRORED)


def test_the_twin_ordered_elsewhere_is_found(put: Put, order: Order) -> None:
    one, other = ComponentFactory(), ComponentFactory()
    one.twin, other.twin = other, one
    one.save()
    other.save()
    order.lines.filter(number=1).update(component=one)
    order.lines.filter(number=2).update(hand="", component=None)
    left = put(1, part())
    elsewhere = OrderLineFactory(hand="R", component=other)
    again = Drawing.objects.create(
        line=elsewhere, hand="R", file_name="r", file="r", digest="r", size_bytes=1,
        read=left.read, at=left.at, client_id="r",
    )  # fmt: skip
    assert hands_of(left) == (again, words.Mirror.SAME)


def test_alone_or_unread_there_is_nothing_to_compare(put: Put) -> None:
    left = put(1, part())
    assert hands_of(left) is None
    assert hands_of(put(2, b"no drawing")) is None
    assert hands_of(left) is None
