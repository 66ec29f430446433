"""Count-up: what is typed of a place is counted whole or not at all."""

import pytest
from django.test import Client

from fabshop.records.stock import Piece, PieceCount
from tests.factories import PieceFactory

pytestmark = pytest.mark.django_db


def left(code: str) -> float:
    return Piece.objects.with_left().get(code=code).left_um / 1000


def test_a_place_is_chosen_then_its_pieces_are_counted(page: Client) -> None:
    PieceFactory(code="M10", place="drop tray", length_um=347_000)
    PieceFactory(code="M11", place="drop tray", length_um=181_000)
    assert "Which place do you stand at?" in page.get("/rack/count/").text
    there = "/rack/count/?place=drop%20tray"
    assert (
        "M10 Stainless 304 tube 8 × 1: the record says 347 mm" in page.get(there).text
    )
    answer = page.post(there, {"seen-M10": "347", "seen-M11": "150"})
    assert answer.status_code == 422
    assert "the record says 181 mm, you saw 150 mm. What happened?" in answer.text
    assert not PieceCount.objects.exists()
    said = {"seen-M10": "347", "seen-M11": "150", "reason": "cut in June"}
    answer = page.post(there, {**said, "client_id": "n1"}, follow=True)
    assert "2 counted, 1 differed from the record." in answer.text
    assert (left("M10"), left("M11")) == (347, 150)
    page.post(there, {**said, "client_id": "n1"})
    assert PieceCount.objects.count() == 2


def test_a_sheet_is_counted_by_its_size_and_nothing_left_is_0(page: Client) -> None:
    PieceFactory(code="M10", place="slot")
    PieceFactory(
        code="M16",
        place="slot",
        form="sheet",
        od_um=None,
        wall_um=None,
        thickness_um=2000,
        length_um=400_000,
        width_um=300_000,
    )
    said = {"seen-M10": "0", "seen-M16": "400 x 250", "reason": "used"}
    page.post("/rack/count/?place=slot", said)
    sheet = Piece.objects.with_left().get(code="M16")
    assert (left("M10"), sheet.left_um, sheet.wide_um) == (0, 400_000, 250_000)


def test_what_cannot_be_read_is_said_at_its_piece(page: Client) -> None:
    PieceFactory(code="M10", place="slot")
    answer = page.post("/rack/count/?place=slot", {"seen-M10": "a bit"})
    assert answer.status_code == 422
    assert "M10: “a bit” is not a length" in answer.text
    answer = page.post("/rack/count/?place=slot", {"reason": "x"})
    assert "Nothing is counted yet" in answer.text
