"""Where is it: one box, one list, each line leading to its page."""

from __future__ import annotations

import pytest
from django.test import Client

from fabshop.records.packout import Spare
from fabshop.records.shop import Shop
from tests.factories import ConsumableFactory, CutFactory, PieceFactory

pytestmark = pytest.mark.django_db


def test_a_stranger_signs_in_first(client: Client, shop: Shop) -> None:
    assert client.get("/where/").status_code == 302


def test_what_is_found_says_where_and_who_saw_it(page: Client) -> None:
    cut = CutFactory(piece=PieceFactory(code="M08", place="rack 2"))
    ConsumableFactory(code="C09", name="For M08", place="")
    Spare.objects.create(code="SP2", title="M08 too", place="case 2")
    text = page.get("/where/", {"what": "m08"}).text
    assert "3 found." in text and 'href="/go/M08/"' in text
    assert "rack 2" in text and f"last seen by {cut.person}" in text
    assert 'href="/shelf/C09/"' in text and "no place said" in text
    assert "case 2" in text


def test_a_phone_that_asks_as_it_types_gets_the_list_only(page: Client) -> None:
    answer = page.get("/where/", {"what": "x\x00y"}, headers={"HX-Request": "true"})
    assert answer.status_code == 200
    assert "Nothing here is called “xy”." in answer.text and "<h1>" not in answer.text
