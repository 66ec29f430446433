"""A cut order with a left and a right, and drawings to put on it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from fabshop import words
from fabshop.actions.drawing import put_drawing
from fabshop.records.drawing import Drawing
from fabshop.records.order import Order, OrderLine
from fabshop.records.shop import Person
from tests.factories import OrderFactory, OrderLineFactory
from tests.reckoning.drawing.drawn import dxf, new

CORNERS = [(0.0, 0.0), (60.0, 0.0), (60.0, 20.0), (0.0, 40.0)]


def part(flip: int = 1, scale: float = 1.0, open_by: float = 0.0) -> bytes:
    """A plate of no symmetry, as a DXF in mm."""
    document, model = new()
    corners = [(flip * x * scale, y * scale) for x, y in CORNERS]
    ends = [*corners[1:], (corners[0][0], corners[0][1] + open_by)]
    for a, b in zip(corners, ends, strict=True):
        model.add_line(a, b)
    return dxf(document)


@pytest.fixture
def media(settings: Any, tmp_path: Path) -> Path:
    settings.MEDIA_ROOT = tmp_path
    return tmp_path


@pytest.fixture
def order(shop: object, media: Path) -> Order:
    made: Order = OrderFactory(
        code="P70", kind=words.OrderKind.CUT, move=words.Move.ME, sent_on=None
    )
    OrderLineFactory(order=made, number=1, title="Duct L", hand="L")
    OrderLineFactory(order=made, number=2, title="Duct R", hand="R")
    return made


@pytest.fixture
def line(order: Order) -> OrderLine:
    return order.lines.get(number=1)


@pytest.fixture
def put(order: Order, owner: Person, now: datetime) -> Callable[..., Drawing]:
    def put_on(number: int, content: bytes, **more: Any) -> Drawing:
        told = {"file_name": "duct.dxf", "by": owner, "now": now, **more}
        return put_drawing(line=order.lines.get(number=number), content=content, **told)

    return put_on
