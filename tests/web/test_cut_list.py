"""The cut list on the phone: made, kept as it was, and booked two taps a cut."""

import pytest
from django.test import Client

from fabshop.records.stock import Cut, CutList, CutWish, Piece
from tests.factories import CutWishFactory, PieceFactory, TaskFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def wanted() -> None:
    PieceFactory(code="M08")
    PieceFactory(code="M10", length_um=347_000, is_drop=True, heat_lot="7K139")
    PieceFactory(code="M12", length_um=500_000, is_drop=True, heat_lot="")
    task = TaskFactory(code="W45")
    CutWishFactory(code="L05", length_um=212_000, quantity=2, task=task, joints="J23")
    CutWishFactory(code="L07", length_um=318_000, task=task)
    CutWishFactory(code="L09", length_um=1_200_000, task=task, title="long rail")


def made(page: Client) -> str:
    return page.post("/cuts/ask/", follow=True).text


def test_nothing_wanted_says_so(page: Client) -> None:
    assert "Nothing is to be cut." in page.get("/cuts/").text
    answer = page.post("/cuts/ask/")
    assert answer.status_code == 409
    assert "Nothing is to be cut. Say what is wanted first" in answer.text


def test_a_list_says_each_cut_in_order_and_what_is_not_cut(
    page: Client, wanted: None
) -> None:
    text = made(page)
    assert "Cut list 1" in text
    assert "L07a" in text and "leaves 25.8 mm" in text
    assert "M12 is left out: heat lot unknown, and this goes into a frame." in text
    assert "Not cut: 1 × L09 long rail" in text
    assert "short" in text or "longest" in text
    assert "Proven: no way cuts more" in text


def test_a_cut_is_booked_with_two_taps(page: Client, wanted: None) -> None:
    made(page)
    form = page.get("/cuts/1/L05a/").text
    assert "214 mm from M08." in form
    answer = page.post("/cuts/1/L05a/", {"length": "214 mm"}, follow=True)
    assert "L05a: 214 mm cut from M08. 784.8 mm left" in answer.text
    assert "1 of 3 cut." in answer.text
    assert CutWish.objects.get(code="L05").cuts.count() == 1
    answer = page.post("/cuts/1/L05a/", {"length": "214 mm"})
    assert answer.status_code == 409 and "L05a is cut already" in answer.text


def test_the_real_length_is_booked_where_it_differs(page: Client, wanted: None) -> None:
    made(page)
    page.post("/cuts/1/L05a/", {"length": "213,4"})
    assert Cut.objects.get().part == 213_400


def test_the_list_is_kept_as_it_was_and_a_fresh_one_holds_then(
    page: Client, wanted: None
) -> None:
    made(page)
    page.post("/cuts/1/L07a/", {"length": "320"})
    assert "Cut list 2" in made(page)
    old = page.get("/cuts/1/").text
    assert "This list is an old one." in old and "L07a" in old
    assert [one.number for one in CutList.objects.all()] == [2, 1]
    marks = CutList.objects.get(number=2).marks.values_list("mark", flat=True)
    assert sorted(marks) == ["L05a", "L05b"]


def test_a_length_is_read_back_before_it_is_wanted(page: Client) -> None:
    said = {
        "form": "tube",
        "material": "304",
        "section": "8x1",
        "size": "218",
        "code": "L20",
        "title": "stay",
        "quantity": "2",
    }
    answer = page.post("/cuts/new/", said)
    assert "Read as tube 8 × 1 mm, 218 mm. Is it so?" in answer.text
    page.post("/cuts/new/", {**said, "do": "save"})
    assert CutWish.objects.get(code="L20").quantity == 2
    assert "L20" in page.get("/cuts/").text
    page.post("/cuts/not-wanted/L20/")
    assert "Nothing is to be cut." in page.get("/cuts/").text


def test_what_cannot_be_wanted_is_refused(page: Client) -> None:
    answer = page.post("/cuts/new/", {"form": "tube", "section": "8", "do": "save"})
    assert answer.status_code == 422
    assert "but 2 are asked" in answer.text


def test_a_viewer_reads_the_list_and_books_nothing(
    page: Client, viewers_page: Client, wanted: None
) -> None:
    made(page)
    assert "L07a" in viewers_page.get("/cuts/1/").text
    assert viewers_page.post("/cuts/1/L07a/", {"length": "320"}).status_code == 403


def test_a_sheet_is_drawn_with_its_marks_and_cut_as_drawn(page: Client) -> None:
    flat = {"form": "sheet", "od_um": None, "wall_um": None, "thickness_um": 1500}
    PieceFactory(code="M16", length_um=400_000, width_um=300_000, **flat)
    CutWishFactory(
        code="L10", length_um=90_000, width_um=140_000, is_frame=False, **flat
    )
    text = made(page)
    assert 'aria-label="M16, 400 × 300 mm: L10a 90 × 140 mm at 0 × 0 mm' in text
    assert "Proven: 1 sheet does, no fewer" in text
    assert "The cuts need not run right across." in text
    assert "The drop is 308.8 × 300 mm." in page.get("/cuts/1/sheets/M16/").text
    said = {"drop_code": "M16B"}
    answer = page.post("/cuts/1/sheets/M16/", said, follow=True)
    assert "M16 is cut up as drawn." in answer.text
    assert "All 1 are cut." in answer.text
    assert Piece.objects.get(code="M16B").length_um == 308_800
    assert page.post("/cuts/1/sheets/M16/", said).status_code == 409
    assert page.get("/cuts/1/sheets/M99/").status_code == 404
