"""The rack as facts: what is left and held, in two queries whatever its size."""

import pytest
from pytest_django import DjangoAssertNumQueries

from fabshop.records.stock import Piece
from fabshop.snapshot import take
from fabshop.snapshot.stock import piece_facts
from tests.factories import (
    MOMENT,
    CutFactory,
    NeedFactory,
    PieceCountFactory,
    PieceFactory,
    ReservationFactory,
    TaskFactory,
)

pytestmark = pytest.mark.django_db


def test_a_piece_is_as_its_cuts_and_counts_leave_it() -> None:
    piece = PieceFactory(code="M08")
    CutFactory(piece=piece)
    CutFactory(piece=piece, is_taken_back=True)
    PieceCountFactory(
        piece=piece,
        length_was_um=780_800,
        length_seen_um=780_000,
        length_difference_um=-800,
        reason="dented",
    )
    (fact,) = piece_facts(Piece.objects.all())
    assert (fact.id, fact.left_um, fact.section) == ("M08", 780_000, "8 × 1")


def test_a_hold_is_used_up_by_the_cuts_made_for_it() -> None:
    piece = PieceFactory()
    held = ReservationFactory(piece=piece, length_um=300_000)
    ReservationFactory(piece=piece, released_at=MOMENT)
    CutFactory(piece=piece, reservation=held)
    (fact,) = piece_facts(Piece.objects.all())
    assert fact.held == ((held.task.code, 300_000 - 219_200),)
    CutFactory(piece=piece, reservation=held)
    (fact,) = piece_facts(Piece.objects.all())
    assert fact.held == ()


def test_a_cut_across_a_sheet_takes_from_its_width() -> None:
    sheet = PieceFactory(
        form="sheet", od_um=None, wall_um=None, thickness_um=1500, width_um=300_000
    )
    CutFactory(piece=sheet, along="width", before=300_000, part=90_000, left=208_800)
    (fact,) = piece_facts(Piece.objects.all())
    assert (fact.left_um, fact.wide_um) == (1_000_000, 208_800)


def test_what_is_cut_for_a_task_is_told_of_the_piece_it_names() -> None:
    piece, task = PieceFactory(code="M08"), TaskFactory(code="W45")
    NeedFactory(task=task, kind="rack", line=None, rack_code="M08")
    for taken_back in (False, False, True):
        CutFactory(piece=piece, task=task, is_taken_back=taken_back)
    CutFactory(piece=piece)
    (fact,) = take(MOMENT).pieces
    assert fact.parts == (("W45", 436_000),)


def test_two_queries_do_for_any_rack(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    for _ in range(5):
        ReservationFactory()
    with django_assert_num_queries(2):
        assert len(piece_facts(Piece.objects.all())) == 5


def test_the_shop_carries_the_pieces_that_open_tasks_name(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    PieceFactory(code="M07")
    PieceFactory(code="M99")
    NeedFactory(kind="rack", line=None, rack_code="M07")
    NeedFactory(kind="rack", line=None, rack_code="C01")
    NeedFactory(kind="rack", line=None, rack_code="M99", task=TaskFactory(state="done"))
    assert [piece.id for piece in take(MOMENT).pieces] == ["M07"]
