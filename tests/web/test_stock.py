"""The rack says what lies there and what a length could be cut from."""

import pytest
from django.test import Client
from pytest_django import DjangoAssertNumQueries

from fabshop.records.shop import Shop
from tests.factories import (
    CutFactory,
    CutWishFactory,
    MaterialFactory,
    PieceFactory,
    ReservationFactory,
    TaskFactory,
)

pytestmark = pytest.mark.django_db
KIND = "304|tube|8 × 1"


def test_a_stranger_signs_in_first(client: Client, shop: Shop) -> None:
    assert client.get("/rack/").status_code == 302


def test_an_empty_rack_says_so(page: Client) -> None:
    assert "Nothing is on the rack yet." in page.get("/rack/").text


def test_drops_come_first_and_each_says_its_lot_and_place(page: Client) -> None:
    PieceFactory(code="M08")
    PieceFactory(code="M11", length_um=181_000, is_drop=True, heat_lot="")
    text = page.get("/rack/").text
    assert "2 pieces on the rack, 1 of them drops." in text
    assert text.index("M11") < text.index("M08")
    assert "lot unknown" in text and "7K214" in text
    assert "<h2>rack 2</h2>" in page.get("/rack/?by=place").text


def test_a_piece_that_reads_below_nothing_is_named_first(page: Client) -> None:
    piece = PieceFactory(code="M08")
    CutFactory(piece=piece, part=1_100_000, left=-101_200, is_made_apart=True)
    text = page.get("/rack/").text
    assert "cut more than was there" in text and "measure it" in text
    assert "It reads −101.2 mm" in page.get("/pieces/M08/").text


def test_s9_candidates_are_shortest_first_with_what_is_left(page: Client) -> None:
    PieceFactory(code="M08")
    PieceFactory(code="M10", length_um=347_000, is_drop=True)
    PieceFactory(code="M11", length_um=181_000, is_drop=True)
    answer = page.get("/rack/", {"need": "218", "kind": KIND})
    found = answer.text.partition('id="found"')[2].partition('class="keys')[0]
    assert found.index("M10") < found.index("M08")
    assert "leaves 127.8 mm" in found and "M11" not in found
    assert 'action="/pieces/M10/cut/"' in found


def test_a_phone_that_asks_as_it_types_gets_the_candidates_only(page: Client) -> None:
    PieceFactory(code="M10", length_um=347_000, is_drop=True)
    asked = {"need": "218", "kind": KIND}
    answer = page.get("/rack/", asked, headers={"HX-Request": "true"})
    assert "leaves 127.8 mm" in answer.text and "<h1>" not in answer.text
    assert 'name="length" value="218 mm"' in answer.text
    asked["need"] = "2x"
    answer = page.get("/rack/", asked, headers={"HX-Request": "true"})
    assert answer.status_code == 422 and "Length: “2x”" in answer.text


def test_nothing_long_enough_says_by_how_much(page: Client) -> None:
    PieceFactory(code="M10", length_um=347_000)
    answer = page.get("/rack/", {"need": "347 mm", "kind": KIND})
    assert "leaves 0 mm" in answer.text
    answer = page.get("/rack/", {"need": "348", "kind": KIND})
    assert "short by 2.2 mm with the kerf" in answer.text
    ReservationFactory(piece__code="M08", length_um=1_000_000)
    answer = page.get("/rack/", {"need": "348", "kind": KIND})
    assert "What is long enough is held for other tasks" in answer.text


def test_a_frame_is_offered_no_unknown_lot(page: Client) -> None:
    task = TaskFactory(code="W41")
    CutWishFactory(task=task)
    PieceFactory(code="M12", heat_lot="")
    asked = {"need": "218", "kind": KIND, "for": "W41"}
    text = page.get("/rack/", asked).text
    assert "What is long enough is held for other tasks or of an unknown" in text
    text = page.get("/rack/", {**asked, "for": ""}).text
    assert "heat lot unknown" in text.partition('id="found"')[2]


def test_a_length_that_is_none_is_refused_at_its_field(page: Client) -> None:
    PieceFactory()
    answer = page.get("/rack/", {"need": "long\x00", "kind": KIND})
    assert answer.status_code == 422
    assert "“long” is not a length" in answer.text


def test_the_page_of_a_piece_tells_its_story(page: Client) -> None:
    piece = PieceFactory(code="M08")
    CutFactory(piece=piece)
    PieceFactory(code="M08B", drop_of=piece)
    ReservationFactory(piece=piece, task__code="W41", length_um=300_000)
    text = page.get("/pieces/M08/").text
    assert "780.8 mm left" in text and "480.8 mm free" in text
    # 780.8 mm of pi/4 (8^2 - 6^2) mm2 at 8 g/cm3
    assert "137.4 g" in text
    assert "1000 mm → 780.8 mm" in text
    assert "M08B" in text and "W41" in text


def test_a_piece_that_is_not_there_is_404(page: Client) -> None:
    assert page.get("/pieces/M99/").status_code == 404


def test_the_rack_takes_as_many_queries_for_twenty_as_for_one(
    page: Client, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    PieceFactory()
    with django_assert_num_queries(7) as first:
        page.get("/rack/")
    for number in range(20):
        ReservationFactory(
            piece__material=MaterialFactory(code=f"x{number}", name=f"X{number}")
        )
    with django_assert_num_queries(len(first)):
        page.get("/rack/")
