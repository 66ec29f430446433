"""What the rack's tests share: a tube, and a way to say what is left of it."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from fabshop.records.stock import Piece
from tests.factories import PieceFactory


@pytest.fixture
def tube() -> Piece:
    return PieceFactory(code="M08")


@pytest.fixture
def left() -> Callable[[Piece], float]:
    """Millimetres left of a piece, as the record has it."""
    return lambda piece: Piece.objects.with_left().get(pk=piece.pk).left_um / 1000
