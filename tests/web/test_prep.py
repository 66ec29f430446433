"""Checklists and colour tables, changed by the owner."""

from __future__ import annotations

import pytest
from django.test import Client

from fabshop.records.joint import ColourTable, PrepTemplate
from fabshop.records.shop import Shop

pytestmark = pytest.mark.django_db


def test_every_step_says_where_it_is_from(helpers_page: Client) -> None:
    text = helpers_page.get("/prep/titanium/").text
    assert "MIL-STD-2219A with Change 1, 5.2.2.2" in text
    assert "Make version" not in text
    assert helpers_page.get("/prep/cheese/").status_code == 404


def test_the_owner_makes_the_next_version(page: Client, helpers_page: Client) -> None:
    said = {
        "step-1-text": "Degrease",
        "step-1-is_stop": "yes",
        "step-2-text": "Purge",
        "step-2-kind": "minutes",
        "step-2-stage": "weld",
        "step-2-minutes": "5",
        "seen_version": "1",
    }
    assert helpers_page.post("/prep/titanium/", said).status_code == 403
    answer = page.post("/prep/titanium/", said, follow=True)
    assert "Version 2. Checklists that are begun keep theirs." in answer.text
    steps = PrepTemplate.objects.get(metal="titanium", version=2).steps.all()
    assert [(s.text, s.is_stop, s.minutes) for s in steps] == [
        ("Degrease", True, None),
        ("Purge", False, 5),
    ]
    late = page.post("/prep/titanium/", said)
    assert late.status_code == 409
    assert "made meanwhile" in late.text


def test_what_was_typed_comes_back(page: Client) -> None:
    answer = page.post(
        "/prep/titanium/",
        {"step-1-text": "Mine own step", "step-1-minutes": "5", "seen_version": "1"},
    )
    assert answer.status_code == 422
    assert "only a start mark has minutes" in answer.text
    assert "Mine own step" in answer.text


def test_another_colour_table_is_shown_with_its_source(page: Client) -> None:
    assert "EN ISO 9606-5:2000" in page.get("/prep/titanium/colours/").text
    assert "No table" in page.get("/prep/stainless/colours/").text
    said = {"name": "Ours", "source": "Sample board", "colour-blue": "reject"}
    answer = page.post("/prep/stainless/colours/", said, follow=True)
    assert "Judged by Ours." in answer.text
    assert ColourTable.objects.get().rows.count() == 12
    assert page.post("/prep/stainless/colours/", {"name": "x"}).status_code == 422


def test_the_hours_are_the_shops_own(page: Client, helpers_page: Client) -> None:
    assert "counts as clean for 8 h" in page.get("/prep/").text
    assert helpers_page.post("/prep/", {"clean": "4 h"}).status_code == 403
    page.post("/prep/", {"clean": "4 h"})
    assert Shop.objects.get().clean_minutes == 240
    assert page.post("/prep/", {"clean": "soon"}).status_code == 422
