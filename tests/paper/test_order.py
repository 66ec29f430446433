"""The receiving slip: what is expected, and boxes to count into, per hand."""

from __future__ import annotations

import pytest
from django.http import Http404

from fabshop.paper.order import receiving_slip
from fabshop.records.shop import Shop
from tests.paper.pdf import sizes_mm
from tests.paper.test_plan import BASE, said


def slip(code: str) -> str:
    return said(receiving_slip(code).html(base_url=BASE))


def test_it_says_when_it_comes_and_how_many_are_expected(demo: Shop) -> None:
    html = slip("P04")
    assert "Goods in: P04 Bolsters and stake plates, 1.5 mm 304" in html
    assert "Expected Wed 8 Sep 18:00, late Mon 13 Sep 18:00." in html
    assert "P04/1 Bolsters and stake plates, 1.5 mm 304 14" in html
    assert "GOODS IN P04" in html


def test_hands_are_counted_apart(demo: Shop) -> None:
    html = slip("P02")
    assert "P02/1 Air duct L, left" in html
    assert "P02/2 Air duct R, right" in html
    assert "Nothing more is expected on this order." in html


def test_what_was_never_promised_nor_sent_says_so(demo: Shop) -> None:
    html = slip("P23")
    assert "Expected" in html


def test_damage_and_every_way_of_being_wrong_have_a_box(demo: Shop) -> None:
    html = slip("P04")
    for why in ("wrong hand", "a hole", "the size", "the finish", "damaged"):
        assert why in html
    assert "box damaged" in html
    assert "left shut, still in the box" in html


def test_an_order_that_is_not_there(demo: Shop) -> None:
    with pytest.raises(Http404):
        receiving_slip("P99")


def test_it_is_one_page(demo: Shop) -> None:
    made = receiving_slip("P04").pdf(base_url=BASE, paper="letter")
    assert sizes_mm(made) == [(216, 279)]


def test_what_was_measured_is_printed_with_what_became_of_it(demo: Shop) -> None:
    html = slip("P01")
    assert "length 231.2 mm, drawn 231 ±0.5 mm: within. accepted." in html
    assert "live with it." in html
