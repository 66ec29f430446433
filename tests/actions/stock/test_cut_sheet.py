"""A sheet cut up as drawn: blanks, drop and scrap are its area, exactly."""

from datetime import datetime

import pytest

from fabshop.actions.log import undo_entry
from fabshop.actions.stock import ask_cut_list, cut_piece, cut_sheet
from fabshop.errors import Clash
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.stock import Cut, CutList, Piece
from fabshop.snapshot.stock import open_wishes
from tests.factories import CutWishFactory, PieceFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def sheet() -> Piece:
    return PieceFactory(
        code="M16",
        form="sheet",
        od_um=None,
        wall_um=None,
        thickness_um=1500,
        length_um=400_000,
        width_um=300_000,
    )


@pytest.fixture
def made(sheet: Piece, owner: Person, now: datetime) -> CutList:
    CutWishFactory(
        code="L10",
        form="sheet",
        od_um=None,
        wall_um=None,
        thickness_um=1500,
        length_um=90_000,
        width_um=140_000,
        quantity=2,
        is_frame=False,
    )
    return ask_cut_list(by=owner, now=now)


def test_blanks_drop_and_scrap_are_the_whole_sheet(
    made: CutList, sheet: Piece, owner: Person, now: datetime
) -> None:
    cut_sheet(by=owner, cut_list=made, piece=sheet, drop_code="M16B", now=now)
    sheet.refresh_from_db()
    drop = Piece.objects.get(code="M16B")
    assert sheet.retired_why == "cut up by list 1"
    assert (drop.drop_of, drop.length_um, drop.width_um) == (sheet, 308_800, 300_000)
    cuts = Cut.objects.order_by("pk")
    assert [cut.part for cut in cuts] == [90_000 * 140_000] * 2
    assert cuts[0].before == 400_000 * 300_000
    parts = sum(cut.part + cut.scrap for cut in cuts)
    assert parts + drop.length_um * 300_000 == 400_000 * 300_000
    assert open_wishes() == ()


def test_it_is_undone_whole(
    made: CutList, sheet: Piece, owner: Person, now: datetime
) -> None:
    cut_sheet(by=owner, cut_list=made, piece=sheet, drop_code="M16B", now=now)
    undo_entry(by=owner, entry=LogEntry.objects.get(kind="cut"), now=now)
    sheet.refresh_from_db()
    assert sheet.retired_at is None
    assert Piece.objects.get(code="M16B").retired_at is not None
    assert [wish.count for wish in open_wishes()] == [2]
    cut_sheet(by=owner, cut_list=made, piece=sheet, now=now)


def test_a_sheet_that_is_not_as_drawn_any_more_is_refused(
    made: CutList, sheet: Piece, owner: Person, now: datetime
) -> None:
    cut_piece(by=owner, piece=sheet, length_um=50_000, now=now)
    with pytest.raises(Clash, match="M16 is 348.8 × 300 mm now, not as it was drawn"):
        cut_sheet(by=owner, cut_list=made, piece=sheet, now=now)


def test_a_sheet_the_list_does_not_draw(
    made: CutList, owner: Person, now: datetime
) -> None:
    with pytest.raises(Clash, match="Cut list 1 draws nothing on M99"):
        other = PieceFactory(code="M99")
        cut_sheet(by=owner, cut_list=made, piece=other, now=now)


def test_the_same_tap_twice_cuts_once(
    made: CutList, sheet: Piece, owner: Person, now: datetime
) -> None:
    for _ in range(2):
        cut_sheet(by=owner, cut_list=made, piece=sheet, now=now, client_id="s-1")
    assert Cut.objects.count() == 2
