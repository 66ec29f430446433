"""Each contradiction of the rack is named in one sentence."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from fabshop.console.audit import CHECKS, contradictions
from fabshop.console.audit_stock import RACK_CHECKS
from tests.factories import (
    CutFactory,
    CutMarkFactory,
    PieceFactory,
    ReservationFactory,
)

pytestmark = pytest.mark.django_db


def below_nothing() -> None:
    piece = PieceFactory(code="M08")
    CutFactory(piece=piece, part=1_032_800, left=-34_000, is_made_apart=True)


def held_beyond() -> None:
    ReservationFactory(piece__code="M08", task__code="W41", length_um=1_200_000)


def another_lot() -> None:
    CutFactory(piece=PieceFactory(code="M08"), is_frame=True, heat_lot="7K139")


def another_piece() -> None:
    mark = CutMarkFactory(piece=PieceFactory(code="M10"), mark="L05a")
    CutFactory(mark=mark, piece=PieceFactory(code="M11"))


SAID = {
    below_nothing: "piece-below-nothing: M08 reads −34 mm: measure it.",
    held_beyond: ("held-beyond-piece: W41 hold 1200 mm of M08, but 1000 mm is left."),
    another_lot: (
        "frame-cut-of-another-lot: 218 mm for a frame was cut from M08 as lot 7K139; "
        "the piece says 7K214."
    ),
    another_piece: (
        "mark-cut-from-another-piece: L05a was to come from M10 and came from another."
    ),
}


@pytest.mark.parametrize("spoil", SAID, ids=lambda spoil: spoil.__name__)
def test_a_contradiction_is_named(spoil: Callable[[], None]) -> None:
    spoil()
    assert [str(one) for one in contradictions()] == [SAID[spoil]]


def test_every_check_of_the_rack_is_looked_for_and_finds_something() -> None:
    assert set(RACK_CHECKS) <= set(CHECKS)
    assert {said.partition(":")[0] for said in SAID.values()} == set(RACK_CHECKS)
