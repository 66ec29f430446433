"""A cut of the list carries its heat lot into its joints, and an undo takes it back."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop import words
from fabshop.actions.log import undo_entry
from fabshop.actions.stock import cut_piece
from fabshop.records.joint import Joint
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.stock import CutMark
from tests.factories import (
    CutListFactory,
    CutMarkFactory,
    CutWishFactory,
    JointFactory,
    PieceFactory,
)

pytestmark = pytest.mark.django_db
NOT_MARKED = {"cut_mark": "", "heat_waived_why": ""}


def a_mark(*joints: str, heat_lot: str = "7K139") -> CutMark:
    cut = {"mark": "L02a", "joints": list(joints)}
    answer = {"groups": [{"bars": [{"cuts": [cut]}]}], "sheet_groups": []}
    return CutMarkFactory(
        cut_list=CutListFactory(answer=answer),
        piece=PieceFactory(code="M11", heat_lot=heat_lot),
        wish=CutWishFactory(is_frame=True),
        mark="L02a",
    )


def test_the_lot_goes_into_the_joint_and_back_out(owner: Person, now: datetime) -> None:
    joint = JointFactory(code="J17", **NOT_MARKED)
    other = JointFactory(code="J18", **NOT_MARKED)
    mark = a_mark("J17")
    cut = cut_piece(by=owner, piece=mark.piece, mark=mark, length_um=178_000, now=now)
    joint.refresh_from_db()
    assert (joint.cut_heat_lot, joint.cut_mark) == ("7K139", "L02a")
    other.refresh_from_db()
    assert (other.cut_heat_lot, other.cut_mark) == ("7K214", "")
    undo_entry(by=owner, entry=LogEntry.objects.get(before__cut=cut.pk), now=now)
    joint.refresh_from_db()
    assert (joint.cut_heat_lot, joint.cut_mark) == ("7K214", "")


def test_what_is_welded_keeps_the_lot_it_was_welded_of(
    owner: Person, now: datetime
) -> None:
    JointFactory(code="J17", state=words.JointState.WELDED, **NOT_MARKED)
    mark = a_mark("J17")
    cut_piece(by=owner, piece=mark.piece, mark=mark, length_um=178_000, now=now)
    assert Joint.objects.get(code="J17").cut_heat_lot == "7K214"


def test_an_unknown_lot_let_through_is_unknown_in_the_joint_with_its_reason(
    owner: Person, now: datetime
) -> None:
    JointFactory(code="J17", **NOT_MARKED)
    mark = a_mark("J17", heat_lot="")
    cut_piece(
        by=owner,
        piece=mark.piece,
        mark=mark,
        length_um=178_000,
        waive="spark-tested beside M08",
        now=now,
    )
    joint = Joint.objects.get(code="J17")
    assert (joint.cut_heat_lot, joint.heat_waived_why) == (
        "",
        "spark-tested beside M08",
    )
