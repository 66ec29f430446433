"""The cut list on paper: each cut from the square end, drops, lots, what is not cut."""

import pytest
from django.http import Http404

from fabshop.actions.stock import ask_cut_list, cut_piece
from fabshop.paper.stock import cut_sheet
from fabshop.records.shop import Person, Shop
from fabshop.records.stock import CutMark
from tests.factories import MOMENT, CutWishFactory, PieceFactory
from tests.paper.pdf import sizes_mm, texts
from tests.paper.test_plan import BASE, said

pytestmark = pytest.mark.django_db


@pytest.fixture
def made(demo: Shop, odile: Person) -> int:
    return ask_cut_list(by=odile, now=MOMENT).number


def test_each_piece_says_its_lot_its_place_and_its_cuts_in_order(made: int) -> None:
    html = said(cut_sheet(made).html(base_url=BASE))
    assert "Cut list 1" in html
    assert "14 cuts. Kerf 1.2 mm; 1 mm at each end" in html
    assert "M10 347 mm, drop · heat lot 7K139 · drop tray" in html
    assert "L07a 320 mm (318 mm) bed diagonal" in html
    assert "Drop left 25.8 mm : labelled M10 · 25.8 mm · 7K139" in html


def test_tight_rests_two_lots_and_why_it_is_best_are_said(made: int) -> None:
    html = said(cut_sheet(made).html(base_url=BASE))
    assert "Tight: 1.8 mm left, measure M11 first." in html
    assert "L02 comes of two heat lots, 7K139 and 7K214: J17, J18." in html
    assert "Proven: no way cuts more or opens fewer new metres" in html
    assert "M05 is left out: heat lot unknown" in html


def test_what_is_not_cut_says_by_how_much_it_is_too_short(
    shop: Shop, owner: Person
) -> None:
    PieceFactory(length_um=300_000)
    CutWishFactory(code="L07", length_um=318_000, title="diagonal")
    number = ask_cut_list(by=owner, now=MOMENT).number
    html = said(cut_sheet(number).html(base_url=BASE))
    assert "Not cut: 1 × L07 diagonal: " in html
    assert "20 mm" in html


def test_a_waived_lot_prints(shop: Shop, owner: Person) -> None:
    piece = PieceFactory(heat_lot="", code="M12")
    CutWishFactory(code="L05", is_frame=False)
    number = ask_cut_list(by=owner, now=MOMENT).number
    mark = CutMark.objects.get()
    mark.wish.is_frame = True
    mark.wish.save()
    cut_piece(
        by=owner, piece=piece, length_um=214_000, mark=mark, waive="a jig", now=MOMENT
    )
    html = said(cut_sheet(number).html(base_url=BASE))
    assert "heat lot UNKNOWN" in html
    assert "heat lot UNKNOWN: a jig" in html
    assert "L05a is cut" in html


def test_a_sheet_is_drawn_with_its_blanks(shop: Shop, owner: Person) -> None:
    flat = {"form": "sheet", "od_um": None, "wall_um": None, "thickness_um": 1500}
    PieceFactory(code="M16", length_um=400_000, width_um=300_000, **flat)
    CutWishFactory(
        code="L10", length_um=90_000, width_um=140_000, is_frame=False, **flat
    )
    number = ask_cut_list(by=owner, now=MOMENT).number
    sheet = cut_sheet(number)
    assert "<svg" in sheet.html(base_url=BASE)
    html = said(sheet.html(base_url=BASE))
    assert "L10a 90 × 140 mm" in html
    assert "Drop left 308.8 × 300 mm : label it" in html
    assert "L10a" in texts(sheet.pdf(base_url=BASE, paper="a4"))[0]


def test_a_list_that_is_not_there(shop: Shop) -> None:
    with pytest.raises(Http404):
        cut_sheet(9)


@pytest.mark.parametrize(
    ("paper", "size"), [("a4", (210, 297)), ("letter", (216, 279))]
)
def test_it_fits_either_paper(made: int, paper: str, size: tuple[int, int]) -> None:
    pdf = cut_sheet(made).pdf(base_url=BASE, paper=paper)
    assert set(sizes_mm(pdf)) == {size}
    assert "CUTS 1" in texts(pdf)[0]
