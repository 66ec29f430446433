"""Cuts: what fits, what is refused, what is kept although it reads below nothing."""

from collections.abc import Callable
from datetime import datetime, timedelta

import pytest

from fabshop.actions.log import undo_entry
from fabshop.actions.stock import cut_piece, reserve_piece
from fabshop.errors import BadInput, Clash, NeedsAnswer, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.stock import Cut, Piece
from tests.factories import CutMarkFactory, CutWishFactory, PieceFactory, TaskFactory

pytestmark = pytest.mark.django_db
Left = Callable[[Piece], float]


def test_part_kerf_and_rest_are_what_there_was(
    tube: Piece, owner: Person, now: datetime, left: Left
) -> None:
    cut = cut_piece(by=owner, piece=tube, length_um=218_000, now=now)
    assert (cut.before, cut.part, cut.kerf, cut.left) == (
        1_000_000,
        218_000,
        1200,
        780_800,
    )
    assert left(tube) == 780.8
    tube.refresh_from_db()
    assert tube.is_drop
    entry = LogEntry.objects.get(kind="cut")
    assert entry.text == "218 mm cut from M08, 780.8 mm left"


def test_a_viewer_may_not(tube: Piece, viewer: Person, now: datetime) -> None:
    with pytest.raises(NotAllowed):
        cut_piece(by=viewer, piece=tube, length_um=1000, now=now)


def test_row_31_what_no_longer_fits_is_refused_by_how_much(
    tube: Piece, owner: Person, now: datetime, left: Left
) -> None:
    with pytest.raises(Clash, match="M08 is now 1000 mm: short by 1.2 mm with a kerf"):
        cut_piece(by=owner, piece=tube, length_um=1_000_000, kerf_um=1200, now=now)
    with pytest.raises(Clash, match="short by 5 mm") as error:
        cut_piece(by=owner, piece=tube, length_um=1_005_000, kerf_um=0, now=now)
    assert error.value.code == "too-short"
    assert left(tube) == 1000


def test_row_31_just_as_long_needs_no_kerf_and_leaves_nothing(
    tube: Piece, owner: Person, now: datetime, left: Left
) -> None:
    cut = cut_piece(by=owner, piece=tube, length_um=1_000_000, now=now)
    assert (cut.kerf, cut.left) == (0, 0)
    assert left(tube) == 0


def test_row_32_a_short_rest_asks_scrap_or_keep(
    tube: Piece, owner: Person, now: datetime, left: Left
) -> None:
    with pytest.raises(NeedsAnswer, match="leaves 8.8 mm of M08.*Scrap, or keep") as e:
        cut_piece(by=owner, piece=tube, length_um=990_000, now=now)
    assert (e.value.code, e.value.field) == ("scrap-or-keep", "rest")
    cut = cut_piece(by=owner, piece=tube, length_um=990_000, now=now, rest="scrap")
    assert (cut.scrap, cut.left) == (8800, 0)
    assert left(tube) == 0
    other = PieceFactory()
    cut_piece(by=owner, piece=other, length_um=990_000, now=now, rest="keep")
    assert left(other) == 8.8


def test_row_33_two_cuts_made_apart_are_both_kept_and_nothing_is_clipped(
    tube: Piece, owner: Person, helper: Person, now: datetime, left: Left
) -> None:
    cut_piece(by=owner, piece=tube, length_um=900_000, now=now)
    with pytest.raises(Clash, match="M08 is now 98.8 mm: short by 34 mm"):
        cut_piece(by=helper, piece=tube, length_um=131_600, now=now)
    cut = cut_piece(by=helper, piece=tube, length_um=131_600, now=now, made_apart=True)
    assert (cut.left, left(tube)) == (-34_000, -34)
    assert LogEntry.objects.filter(
        text="131.6 mm cut from M08; it reads −34 mm now: measure it"
    ).exists()


def test_row_33_a_cut_that_a_phone_kept_is_booked_as_made_whatever_is_there(
    tube: Piece, owner: Person, helper: Person, now: datetime, left: Left
) -> None:
    then = now - timedelta(hours=3)
    for person in (owner, helper):
        cut_piece(by=person, piece=tube, length_um=600_000, now=now, at=then)
    assert Cut.objects.filter(is_made_apart=True).count() == 2
    assert left(tube) < 0


def test_row_34_a_frame_gets_no_unknown_lot_unless_waived_with_a_reason(
    owner: Person, now: datetime
) -> None:
    piece = PieceFactory(code="M12", heat_lot="")
    task = TaskFactory()
    wish = CutWishFactory(task=task)
    with pytest.raises(NeedsAnswer, match="M12: nobody knows its heat lot") as error:
        cut_piece(by=owner, piece=piece, length_um=212_000, now=now, wish=wish)
    assert error.value.code == "unknown-lot"
    with pytest.raises(NeedsAnswer):
        cut_piece(by=owner, piece=piece, length_um=212_000, now=now, task=task)
    cut = cut_piece(
        by=owner, piece=piece, length_um=212_000, now=now, wish=wish, waive="a jig"
    )
    assert (cut.is_frame, cut.heat_lot, cut.waived_why) == (True, "", "a jig")
    assert "heat lot unknown: a jig" in LogEntry.objects.get(kind="cut").text


def test_an_unknown_lot_may_be_cut_for_practice(owner: Person, now: datetime) -> None:
    piece = PieceFactory(heat_lot="")
    cut = cut_piece(by=owner, piece=piece, length_um=90_000, now=now)
    assert not cut.is_frame


def test_a_task_takes_what_it_holds_and_others_do_not(
    tube: Piece, owner: Person, now: datetime
) -> None:
    mine, other = TaskFactory(code="W41"), TaskFactory(code="W45")
    reserve_piece(by=owner, piece=tube, task=mine, length_um=900_000, now=now)
    with pytest.raises(Clash, match="held for W41 900 mm; 100 mm is free"):
        cut_piece(by=owner, piece=tube, length_um=200_000, task=other, now=now)
    cut = cut_piece(by=owner, piece=tube, length_um=200_000, task=mine, now=now)
    assert cut.reservation is not None


def test_a_mark_is_cut_once(tube: Piece, owner: Person, now: datetime) -> None:
    mark = CutMarkFactory(piece=tube, mark="L03a")
    cut = cut_piece(by=owner, piece=tube, length_um=214_000, mark=mark, now=now)
    assert cut.wish == mark.wish
    with pytest.raises(Clash, match="L03a is cut already, by Olive"):
        cut_piece(by=owner, piece=tube, length_um=214_000, mark=mark, now=now)


def test_the_same_tap_twice_is_one_cut(
    tube: Piece, owner: Person, now: datetime, left: Left
) -> None:
    cuts = [
        cut_piece(by=owner, piece=tube, length_um=218_000, now=now, client_id="c-1")
        for _ in range(2)
    ]
    assert cuts[0] == cuts[1]
    assert left(tube) == 780.8


def test_a_cut_is_undone_within_ten_minutes(
    tube: Piece, owner: Person, now: datetime, left: Left
) -> None:
    cut_piece(by=owner, piece=tube, length_um=218_000, now=now, keep_as="M08B")
    entry = LogEntry.objects.get(kind="cut")
    undo_entry(by=owner, entry=entry, now=now + timedelta(minutes=9))
    assert left(tube) == 1000
    tube.refresh_from_db()
    assert not tube.is_drop
    assert Piece.objects.get(code="M08B").retired_at is not None
    assert Cut.objects.get().is_taken_back


def test_what_is_cut_may_be_kept_as_a_piece_of_its_own(
    tube: Piece, owner: Person, now: datetime, left: Left
) -> None:
    cut = cut_piece(by=owner, piece=tube, length_um=400_000, now=now, keep_as="M08B")
    assert cut.made is not None
    made = cut.made
    assert (made.code, made.length_um, made.heat_lot) == ("M08B", 400_000, "7K214")
    assert (made.drop_of, made.section) == (tube, "8 × 1")


def test_a_sheet_is_cut_across_its_width(owner: Person, now: datetime) -> None:
    sheet = PieceFactory(
        form="sheet",
        od_um=None,
        wall_um=None,
        thickness_um=1500,
        length_um=300_000,
        width_um=200_000,
    )
    cut_piece(by=owner, piece=sheet, length_um=90_000, across=True, now=now)
    assert Piece.objects.with_left().get(pk=sheet.pk).wide_um == 108_800
    with pytest.raises(BadInput, match="has no width"):
        cut_piece(by=owner, piece=PieceFactory(), length_um=9000, across=True, now=now)


def test_no_length_is_no_cut(tube: Piece, owner: Person, now: datetime) -> None:
    with pytest.raises(BadInput, match="0 mm is no cut"):
        cut_piece(by=owner, piece=tube, length_um=0, now=now)
