"""A drawing whose file is gone, and one sent with another order, are named."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from fabshop.actions.order.owed import line_name
from fabshop.console.audit_drawing import DRAWING_CHECKS
from tests.factories import (
    DrawingFactory,
    DrawingSentFactory,
    OrderFactory,
    OrderLineFactory,
    SendingFactory,
)

pytestmark = pytest.mark.django_db


def test_a_drawing_without_its_file_is_named(settings: Any, tmp_path: Path) -> None:
    settings.MEDIA_ROOT = tmp_path
    said = DRAWING_CHECKS["drawing-without-file"]
    line = OrderLineFactory(order=OrderFactory(code="P02"))
    drawing = DrawingFactory(line=line, file="part.dxf", revision="B")
    assert list(said()) == [f"{line_name(line)}: the file of {drawing} is gone."]
    (tmp_path / "part.dxf").write_bytes(b"0")
    assert list(said()) == []


def test_a_drawing_that_went_out_with_another_order_is_named() -> None:
    said = DRAWING_CHECKS["drawing-sent-elsewhere"]
    line = OrderLineFactory(order=OrderFactory(code="P02"))
    drawing = DrawingFactory(line=line)
    DrawingSentFactory(drawing=drawing, sending=SendingFactory(order=line.order))
    assert list(said()) == []
    other = OrderFactory(code="P03")
    DrawingSentFactory(drawing=drawing, sending=SendingFactory(order=other))
    (only,) = said()
    assert only == f"{drawing} went out with {other}, which it is not of."
