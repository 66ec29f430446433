"""Forms of the shelf: kept where they are refused, unknown days left unknown."""

from __future__ import annotations

from datetime import date

import pytest
from django.test import Client

from fabshop.actions.shelf.locked import left_of
from fabshop.records.shelf import Consumable, Tray
from tests.factories import ConsumableFactory, OrderLineFactory, ReceiptFactory

pytestmark = pytest.mark.django_db
SAID = {"code": "C11", "name": "Slow epoxy", "unit": "g", "quantity": "400"}


def test_put_there_without_a_date_it_is_unknown(page: Client) -> None:
    """Row 45."""
    text = page.post("/shelf/new/", SAID, follow=True).text
    assert "C11 Slow epoxy is on the shelf." in text
    assert "nobody knows until when it is good" in text


def test_opened_on_some_day_nobody_knows_when(page: Client) -> None:
    """Row 45."""
    page.post("/shelf/new/", {**SAID, "opened": "some-day"})
    assert "yes, nobody knows when" in page.get("/shelf/C11/").text


def test_what_is_wrong_comes_back_with_what_was_typed(page: Client) -> None:
    answer = page.post("/shelf/new/", {**SAID, "name": "", "use_by_on": "soon"})
    assert answer.status_code == 422
    assert "Name: nothing is written" in answer.text
    assert "“soon” is not a day" in answer.text
    assert 'value="C11"' in answer.text


def test_a_code_is_not_used_twice(page: Client) -> None:
    page.post("/shelf/new/", SAID)
    assert page.post("/shelf/new/", SAID).status_code == 409


def test_a_tray_is_put_there(page: Client) -> None:
    said = {"code": "F06", "size": "M2x6", "kind": "screw", "quantity": "20"}
    page.post("/hardware/new/", said)
    tray = Tray.objects.get()
    assert (tray.size, left_of(tray)) == ("M2×6", 20_000)
    assert page.post("/hardware/new/", {**said, "size": ""}).status_code == 422


def test_the_owner_says_the_days_and_a_helper_the_place(
    page: Client, helpers_page: Client
) -> None:
    ConsumableFactory(code="C01", use_by_on=None)
    said = {"place": "cold shelf", "note": "", "use_by_on": "2028-01-31"}
    helpers_page.post("/shelf/C01/change/", {**said, "version": "1"})
    thing = Consumable.objects.get()
    assert (thing.place, thing.use_by_on) == ("cold shelf", None)
    page.post("/shelf/C01/change/", {**said, "name": "Epoxy", "version": "2"})
    thing.refresh_from_db()
    assert (thing.name, thing.use_by_on) == ("Epoxy", date(2028, 1, 31))
    stale = page.post("/shelf/C01/change/", {**said, "name": "X", "version": "1"})
    assert stale.status_code == 409


def test_a_line_fills_it_and_what_came_counts(page: Client) -> None:
    thing = ConsumableFactory(code="C01")
    line = OrderLineFactory(quantity_milli=2_000)
    ReceiptFactory(line=line, counted_milli=2_000, accepted_milli=2_000)
    name = f"{line.order.code}/{line.number}"
    assert name in page.get("/shelf/C01/fill/").text
    assert page.post("/shelf/C01/fill/", {"line": "P99/1"}).status_code == 422
    page.post("/shelf/C01/fill/", {"line": name, "each": "20"})
    assert left_of(thing) == 40_000
