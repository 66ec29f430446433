"""A task is for a frame where its wishes say so."""

import pytest

from fabshop.actions.stock.locked import is_for_a_frame, piece_as_it_stands
from tests.factories import CutFactory, CutWishFactory, PieceFactory, TaskFactory

pytestmark = pytest.mark.django_db


def test_a_wish_speaks_before_its_task() -> None:
    task = TaskFactory()
    assert not is_for_a_frame(task)
    CutWishFactory(task=task)
    assert is_for_a_frame(task)
    assert not is_for_a_frame(task, CutWishFactory(task=task, is_frame=False))
    assert not is_for_a_frame(None)


def test_a_piece_stands_as_its_cuts_left_it() -> None:
    piece = PieceFactory()
    CutFactory(piece=piece)
    assert piece_as_it_stands(piece).left_um == 780_800
