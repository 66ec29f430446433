"""Cutting on the phone: refused by how much and kept, or booked as it was made."""

import pytest
from django.test import Client

from fabshop.records.log import Draft
from fabshop.records.stock import Cut, Piece, Reservation
from tests.factories import (
    CutWishFactory,
    PieceFactory,
    ReservationFactory,
    TaskFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def tube() -> Piece:
    return PieceFactory(code="M10", length_um=347_000, is_drop=True)


def test_s9_one_tap_cuts_and_says_what_to_write_on_the_drop(
    page: Client, tube: Piece
) -> None:
    answer = page.post("/pieces/M10/cut/", {"length": "218 mm"}, follow=True)
    assert "218 mm cut from M10. 127.8 mm left: write M10 and 127.8 mm" in answer.text


def test_s9_the_second_of_two_sees_what_is_left_and_what_they_typed_is_kept(
    page: Client, helpers_page: Client, tube: Piece
) -> None:
    page.post("/pieces/M10/cut/", {"length": "218"})
    answer = helpers_page.post("/pieces/M10/cut/", {"length": "160,8"})
    assert answer.status_code == 409
    assert "M10 is now 127.8 mm: short by 34.2 mm" in answer.text
    assert "It is cut already: book it as made" in answer.text
    assert 'value="160,8"' in answer.text
    assert Draft.objects.get().payload["length"] == ["160,8"]
    answer = helpers_page.post(
        "/pieces/M10/cut/", {"length": "160,8", "made_apart": "yes"}, follow=True
    )
    assert "It reads −34.2 mm now: measure it." in answer.text
    assert Cut.objects.count() == 2


def test_row_32_a_short_rest_has_two_keys(page: Client, tube: Piece) -> None:
    answer = page.post("/pieces/M10/cut/", {"length": "340"})
    assert answer.status_code == 409
    assert "leaves 5.8 mm of M10" in answer.text
    assert 'name="rest" value="scrap"' in answer.text
    answer = page.post(
        "/pieces/M10/cut/", {"length": "340", "rest": "scrap"}, follow=True
    )
    assert "Nothing is left of M10." in answer.text


def test_row_34_an_unknown_lot_asks_why(page: Client) -> None:
    PieceFactory(code="M12", heat_lot="")
    CutWishFactory(task=TaskFactory(code="W41"))
    said = {"length": "218", "task": "W41"}
    answer = page.post("/pieces/M12/cut/", said)
    assert answer.status_code == 409
    assert "Why may it all the same?" in answer.text
    answer = page.post("/pieces/M12/cut/", {**said, "waive": "a trial"}, follow=True)
    assert "lot unknown: a trial" in answer.text


@pytest.mark.parametrize(
    ("said", "sentence"),
    [
        ({"length": ""}, "Length: nothing is written"),
        ({"length": "wide"}, "“wide” is not a length"),
        ({"length": "218", "task": "W99"}, "Task: there is no W99."),
        ({"length": "218", "kerf": "x"}, "Kerf: “x”"),
    ],
)
def test_what_cannot_be_read_is_refused(
    page: Client, tube: Piece, said: dict[str, str], sentence: str
) -> None:
    answer = page.post("/pieces/M10/cut/", said)
    assert answer.status_code == 422
    assert sentence in answer.text


def test_a_viewer_reads_why_they_may_not(viewers_page: Client, tube: Piece) -> None:
    answer = viewers_page.post("/pieces/M10/cut/", {"length": "218"})
    assert answer.status_code == 403


def test_a_piece_is_held_and_let_go(page: Client, tube: Piece) -> None:
    TaskFactory(code="W41")
    answer = page.post("/pieces/M10/hold/", {"holder": "W41", "held": ""}, follow=True)
    assert "347 mm of M10 held for W41." in answer.text
    held = Reservation.objects.get()
    answer = page.post("/pieces/M10/hold/", {"holder": "", "held": "1"})
    assert answer.status_code == 422 and "For which task?" in answer.text
    page.post(f"/pieces/M10/let-go/{held.pk}/")
    held.refresh_from_db()
    assert held.released_at is not None


def test_a_held_piece_is_not_cut_for_another(page: Client, tube: Piece) -> None:
    ReservationFactory(piece=tube, task__code="W45", length_um=347_000)
    answer = page.post("/pieces/M10/cut/", {"length": "218"})
    assert answer.status_code == 409
    assert "held for W45 347 mm" in answer.text


def test_place_and_lot_are_changed_and_a_piece_goes(
    page: Client, helpers_page: Client, tube: Piece
) -> None:
    page.post("/pieces/M10/change/", {"place": "tray", "heat_lot": "7K139", "note": ""})
    tube.refresh_from_db()
    assert (tube.place, tube.heat_lot) == ("tray", "7K139")
    helpers_page.post("/pieces/M10/change/", {"place": "rack", "heat_lot": "x"})
    tube.refresh_from_db()
    assert (tube.place, tube.heat_lot) == ("rack", "7K139")
    answer = page.post("/pieces/M10/gone/", {"why": ""})
    assert answer.status_code == 422 and "Why: nothing is written" in answer.text
    page.post("/pieces/M10/gone/", {"why": "bent"})
    tube.refresh_from_db()
    assert tube.retired_why == "bent"
    assert "Gone from the rack" in page.get("/pieces/M10/").text
