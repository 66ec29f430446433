"""Pieces are put on the rack as their form is measured, and go with a reason."""

from datetime import datetime, timedelta
from typing import Any

import pytest

from fabshop.actions.log import undo_entry
from fabshop.actions.stock import add_piece, change_piece, reserve_piece, retire_piece
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.stock import Piece
from tests.factories import PieceFactory, TaskFactory

pytestmark = pytest.mark.django_db


def put(by: Person, now: datetime, **changed: Any) -> Piece:
    said: dict[str, Any] = {
        "code": "M21",
        "form": "tube",
        "material": "304",
        "od_um": 8000,
        "wall_um": 1000,
        "length_um": 1_000_000,
    }
    return add_piece(by=by, now=now, **(said | changed))


def test_a_tube_is_on_the_rack(helper: Person, now: datetime) -> None:
    piece = put(helper, now, heat_lot=" 7K214 ", place="rack 2")
    assert (piece.section, piece.heat_lot, piece.place) == ("8 × 1", "7K214", "rack 2")
    entry = LogEntry.objects.get(kind="put-on-the-rack")
    assert entry.text == "On the rack: M21 tube 304 8 × 1, 1000 mm"


@pytest.mark.parametrize("seen", ["", "unknown", "Unknown", "?", "—"])
def test_a_lot_nobody_knows_is_kept_as_none(
    helper: Person, now: datetime, seen: str
) -> None:
    assert put(helper, now, heat_lot=seen).heat_lot == ""


@pytest.mark.parametrize(
    ("changed", "said", "field"),
    [
        # row 39
        ({"wall_um": 4001}, "4.001 mm is thicker than the radius of 8 mm", "wall"),
        ({"od_um": 0}, "Diameter: 0 mm. It is more than 0", "od"),
        ({"wall_um": None}, "Wall: nothing is written", "wall"),
        ({"length_um": 0}, "Length: 0 mm", "length"),
        ({"width_um": 5}, "Width: a tube has none", "width"),
        ({"form": "beam"}, "“beam” is none of tube, rod, sheet, roll", "form"),
        ({"grain": "length"}, "Grain: “length” cannot be", "grain"),
        ({"material": "cheese"}, "nobody here knows “cheese”", "material"),
        ({"drop_of": "M99"}, "there is no piece M99", "drop_of"),
        ({"code": "M 21"}, "“M 21” will not do", "code"),
    ],
)
def test_what_cannot_be_is_refused_by_name(
    helper: Person, now: datetime, changed: dict[str, Any], said: str, field: str
) -> None:
    with pytest.raises(BadInput) as error:
        put(helper, now, **changed)
    assert said in error.value.message
    assert error.value.field == field


def test_row_58_a_code_is_never_used_again(owner: Person, now: datetime) -> None:
    piece = put(owner, now)
    retire_piece(by=owner, piece=piece, why="bent", now=now)
    with pytest.raises(Clash, match="There is or was a piece M21 already"):
        put(owner, now)


def test_a_piece_goes_with_a_reason_and_not_while_it_is_held(
    owner: Person, now: datetime
) -> None:
    piece = PieceFactory(code="M07")
    with pytest.raises(BadInput, match="Why: nothing is written"):
        retire_piece(by=owner, piece=piece, why="", now=now)
    reserve_piece(by=owner, piece=piece, task=TaskFactory(code="W41"), now=now)
    with pytest.raises(Clash, match="holds M07; let it go first"):
        retire_piece(by=owner, piece=piece, why="bent", now=now)
    other = retire_piece(by=owner, piece=PieceFactory(), why="bent", now=now)
    with pytest.raises(Clash, match="is gone from the rack: bent"):
        change_piece(by=owner, piece=other, place="tray", now=now)


def test_going_and_coming_are_undone(owner: Person, now: datetime) -> None:
    piece = put(owner, now)
    retire_piece(by=owner, piece=piece, why="bent", now=now)
    later = now + timedelta(minutes=1)
    gone = LogEntry.objects.get(text__startswith="Gone")
    undo_entry(by=owner, entry=gone, now=later)
    piece.refresh_from_db()
    assert piece.retired_at is None
    came = LogEntry.objects.get(kind="put-on-the-rack")
    undo_entry(by=owner, entry=came, now=later)
    piece.refresh_from_db()
    assert piece.retired_why == "taken back: put here by mistake"


def test_a_lot_is_the_owners_to_say(
    owner: Person, helper: Person, now: datetime
) -> None:
    piece = PieceFactory(heat_lot="")
    change_piece(by=helper, piece=piece, place="drop tray", now=now)
    with pytest.raises(NotAllowed):
        change_piece(by=helper, piece=piece, heat_lot="7K214", now=now)
    changed = change_piece(by=owner, piece=piece, heat_lot="7K214", now=now)
    assert (changed.place, changed.heat_lot) == ("drop tray", "7K214")
    assert "heat lot 7K214, was unknown" in LogEntry.objects.first().text  # type: ignore[union-attr]
