"""Trays put on the shelf, moved and taken off it."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import pytest

from fabshop.actions.shelf import add_tray, change_tray, retire_tray
from fabshop.actions.shelf.locked import left_of
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.shelf import Tray
from fabshop.records.shop import Person

pytestmark = pytest.mark.django_db


def test_a_size_is_written_with_one_sign(helper: Person, now: datetime) -> None:
    tray = add_tray(
        by=helper, code="F01", size="M3x8 BH", quantity_milli=18_000, now=now
    )
    assert (tray.size, left_of(tray)) == ("M3×8 BH", 18_000)


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"size": ""}, "Size: nothing is written"),
        ({"kind": "spoon"}, "Kind: “spoon” is none of screw, nut"),
        ({"quantity_milli": 1_500}, "counted in whole pieces"),
        ({"quantity_milli": -1_000}, "less than nothing"),
    ],
)
def test_what_cannot_be_is_refused(
    helper: Person, now: datetime, said: dict[str, Any], sentence: str
) -> None:
    with pytest.raises(BadInput, match=sentence):
        add_tray(by=helper, now=now, **{"code": "F01", "size": "M3×8 BH", **said})


def test_a_helper_moves_it_and_the_owner_says_what_is_in_it(
    nuts: Tray, owner: Person, helper: Person, now: datetime
) -> None:
    change_tray(by=helper, tray=nuts, now=now, place="drawer 2", note="low")
    with pytest.raises(NotAllowed):
        change_tray(by=helper, tray=nuts, now=now, size="M5 nylon nut")
    changed = change_tray(
        by=owner, tray=nuts, now=now, size="M4x1 nut", is_single_use=False
    )
    assert (changed.size, changed.place) == ("M4×1 nut", "drawer 2")


def test_gone_it_is_neither_moved_nor_made_again(
    nuts: Tray, owner: Person, now: datetime
) -> None:
    retire_tray(by=owner, tray=nuts, why="mixed up", now=now)
    with pytest.raises(Clash, match="gone from the shelf: mixed up"):
        change_tray(by=owner, tray=nuts, now=now, place="drawer 3")
    with pytest.raises(Clash, match="codes are not used again"):
        add_tray(by=owner, code="F04", size="M4", now=now)
