"""Before it is sent it asks; a newer drawing here flags the order (row 30)."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from typing import Any

import pytest

from fabshop.actions.drawing import looks_of
from fabshop.actions.order import mark_sent
from fabshop.errors import NeedsAnswer
from fabshop.records.drawing import Drawing
from fabshop.records.order import Order, Sending
from fabshop.records.shop import Person
from tests.actions.drawing.conftest import part

pytestmark = pytest.mark.django_db
Put = Callable[..., Drawing]


def send(order: Order, owner: Person, now: datetime, **more: Any) -> Sending:
    return mark_sent(by=owner, order=order, now=now, **more)


def test_two_identical_hands_are_flagged_before_sending_never_after(
    order: Order, put: Put, owner: Person, now: datetime
) -> None:
    put(1, part())
    put(2, part(), file_name="right.dxf")
    with pytest.raises(NeedsAnswer, match="left and right are the same") as caught:
        send(order, owner, now)
    assert caught.value.code == "drawing-doubtful"
    assert not Sending.objects.exists()
    assert send(order, owner, now, confirm=True).drawings.count() == 2


def test_a_mirrored_pair_goes_out_unasked(
    order: Order, put: Put, owner: Person, now: datetime
) -> None:
    put(1, part())
    put(2, part(flip=-1))
    assert send(order, owner, now).drawings.count() == 2
    assert "mirror images" in looks_of(order)[0].hands


@pytest.mark.parametrize(
    ("content", "says"),
    [(part(open_by=0.5), "gap by 0.5 mm"), (part(scale=100), "longer than a sheet")],
)
def test_an_open_outline_or_a_senseless_size_is_asked_about(
    order: Order, put: Put, owner: Person, now: datetime, content: bytes, says: str
) -> None:
    put(1, content)
    with pytest.raises(NeedsAnswer, match=says):
        send(order, owner, now)


def test_row_30_they_hold_b_yours_is_c(
    order: Order, put: Put, owner: Person, now: datetime
) -> None:
    put(1, part(), revision="B")
    send(order, owner, now)
    put(1, part(scale=1.1), revision="C")
    (look,) = looks_of(order)
    assert look.is_newer
    assert look.said_of_held == "They hold revision B, yours is C."


def test_without_drawings_nothing_is_asked(
    order: Order, owner: Person, now: datetime
) -> None:
    assert send(order, owner, now).drawings.count() == 0
