"""Taking back what was cut since is refused; a length cut twice stays a drop."""

from datetime import datetime

import pytest

from fabshop.actions.log import undo_entry
from fabshop.actions.stock import cut_piece
from fabshop.errors import Clash
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.stock import Piece

pytestmark = pytest.mark.django_db


def test_a_part_that_was_cut_again_stays(
    tube: Piece, owner: Person, now: datetime
) -> None:
    first = cut_piece(by=owner, piece=tube, length_um=400_000, keep_as="B", now=now)
    assert first.made is not None
    cut_piece(by=owner, piece=first.made, length_um=100_000, now=now)
    entry = LogEntry.objects.get(before__cut=first.pk)
    with pytest.raises(Clash, match="B has been cut since; undo that first"):
        undo_entry(by=owner, entry=entry, now=now)


def test_a_length_that_was_cut_once_more_stays_a_drop(
    tube: Piece, owner: Person, now: datetime
) -> None:
    first = cut_piece(by=owner, piece=tube, length_um=400_000, now=now)
    cut_piece(by=owner, piece=tube, length_um=100_000, now=now)
    undo_entry(by=owner, entry=LogEntry.objects.get(before__cut=first.pk), now=now)
    tube.refresh_from_db()
    assert tube.is_drop
