"""Count-up: the figure seen becomes a difference with its reason."""

from collections.abc import Callable
from datetime import datetime

import pytest

from fabshop.actions.log import undo_entry
from fabshop.actions.stock import count_piece
from fabshop.errors import BadInput
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.stock import Piece
from tests.factories import CutFactory

pytestmark = pytest.mark.django_db
Left = Callable[[Piece], float]


def test_the_difference_is_an_entry_with_its_reason(
    tube: Piece, helper: Person, now: datetime, left: Left
) -> None:
    with pytest.raises(
        BadInput, match="the record says 1000 mm, you saw 880 mm. What happened"
    ):
        count_piece(by=helper, piece=tube, length_um=880_000, now=now)
    count = count_piece(
        by=helper, piece=tube, length_um=880_000, reason="cut, not written", now=now
    )
    assert (count.length_difference_um, left(tube)) == (-120_000, 880)
    assert LogEntry.objects.get().text == (
        "M08: seen 880 mm, the record said 1000 mm. cut, not written"
    )


def test_what_is_as_the_record_says_needs_no_reason(
    tube: Piece, helper: Person, now: datetime
) -> None:
    count = count_piece(by=helper, piece=tube, length_um=1_000_000, now=now)
    assert count.length_difference_um == 0


def test_a_piece_below_nothing_is_measured_right_again(
    tube: Piece, helper: Person, now: datetime, left: Left
) -> None:
    CutFactory(piece=tube, part=1_100_000, left=-101_200, is_made_apart=True)
    assert left(tube) == -101.2
    count_piece(by=helper, piece=tube, length_um=12_000, reason="measured", now=now)
    assert left(tube) == 12


def test_a_count_is_undone(
    tube: Piece, helper: Person, now: datetime, left: Left
) -> None:
    count_piece(by=helper, piece=tube, length_um=5000, reason="slip", now=now)
    undo_entry(by=helper, entry=LogEntry.objects.get(), now=now)
    assert left(tube) == 1000


def test_a_tube_has_no_width(tube: Piece, helper: Person, now: datetime) -> None:
    with pytest.raises(BadInput, match="Width: a tube has none"):
        count_piece(by=helper, piece=tube, length_um=1, width_um=1, now=now)
