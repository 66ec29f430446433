"""The repair card is a handful of small pages with the ten likeliest parts."""

from __future__ import annotations

import re

import pytest

from fabshop.errors import NotFound
from fabshop.paper.pit import repair_card
from fabshop.records.shop import Shop
from tests.paper.pdf import sizes_mm, texts

pytestmark = pytest.mark.django_db


def test_ten_parts_with_their_way_in_and_their_spare(demo: Shop) -> None:
    html = repair_card("tuppence").html(base_url="http://shop")
    assert html.count("min off and on") == 10
    assert "Spare <b>SP4</b> Servo, 20 kg: 1, event case." in html
    assert "Main switch off." in html


def test_it_is_printed_on_a6(demo: Shop) -> None:
    made = repair_card("tuppence").pdf(base_url="http://shop", paper="a4")
    assert set(sizes_mm(made)) == {(105, 148)}
    told = texts(made)
    assert 2 <= len(told) <= 8
    assert len(set(re.findall(r"\bT\d\d\b", " ".join(told)))) >= 10


def test_a_build_that_is_not_there_is_named(demo: Shop) -> None:
    with pytest.raises(NotFound, match="nobody"):
        repair_card("nobody")
