"""A cut list is reckoned once and kept; each one is the next edition."""

from datetime import datetime

import pytest

from fabshop.actions.stock import ask_cut_list, cut_piece
from fabshop.errors import Clash, NotAllowed
from fabshop.records.shop import Person
from fabshop.records.stock import CutMark
from tests.factories import (
    CutWishFactory,
    PieceFactory,
    ReservationFactory,
    TaskFactory,
)

pytestmark = pytest.mark.django_db


def test_nothing_wanted_is_no_list(owner: Person, now: datetime) -> None:
    with pytest.raises(Clash, match="Nothing is to be cut"):
        ask_cut_list(by=owner, now=now)


def test_drops_are_cut_before_new_lengths_and_the_list_is_kept(
    owner: Person, viewer: Person, now: datetime
) -> None:
    PieceFactory(code="M08")
    PieceFactory(code="M10", length_um=347_000, is_drop=True)
    CutWishFactory(code="L07", length_um=318_000)
    made = ask_cut_list(by=owner, now=now, client_id="k-1")
    mark = CutMark.objects.get()
    assert (mark.mark, mark.piece.code, mark.part_um) == ("L07a", "M10", 320_000)
    assert mark.left_um == 25_800
    assert ask_cut_list(by=owner, now=now, client_id="k-1") == made
    assert ask_cut_list(by=owner, now=now).number == 2
    with pytest.raises(NotAllowed):
        ask_cut_list(by=viewer, now=now)


def test_tasks_on_one_list_share_what_they_hold_and_others_keep_theirs(
    owner: Person, now: datetime
) -> None:
    mine, other = TaskFactory(code="W41"), TaskFactory(code="W99")
    held = PieceFactory(code="M07")
    ReservationFactory(piece=held, task=mine, length_um=1_000_000)
    ReservationFactory(piece__code="M08", task=other, length_um=1_000_000)
    CutWishFactory(code="L05", task=TaskFactory(code="W45"))
    CutWishFactory(code="L06", task=mine)
    made = ask_cut_list(by=owner, now=now)
    (group,) = made.answer["groups"]
    assert [bar["piece"] for bar in group["bars"]] == ["M07"]
    assert group["kept_out"] == [{"piece": "M08", "why": "held for W99"}]
    for mark in CutMark.objects.all():
        cut_piece(
            by=owner,
            piece=held,
            mark=mark,
            length_um=mark.part_um,
            rest="keep",
            now=now,
        )


def test_frames_and_the_rest_do_not_open_the_same_piece(
    owner: Person, now: datetime
) -> None:
    PieceFactory(code="M08")
    PieceFactory(code="M12", heat_lot="", is_drop=True)
    CutWishFactory(code="L05", is_frame=True)
    CutWishFactory(code="L09", is_frame=False)
    made = ask_cut_list(by=owner, now=now)
    bars = {
        group["for_frame"]: [bar["piece"] for bar in group["bars"]]
        for group in made.answer["groups"]
    }
    assert bars == {True: ["M08"], False: ["M12"]}
