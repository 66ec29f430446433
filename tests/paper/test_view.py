"""Sheets over HTTP: page and PDF, refused in a sentence, never to a stranger."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client

from fabshop.paper import render
from fabshop.paper.sheet import Sheet
from fabshop.records.plan import Plan
from fabshop.records.shop import Person
from tests.paper.pdf import sizes_mm

SHEETS = ("teardown/{plan}", "pull-list/{plan}", "receiving/P04", "wall")


@pytest.mark.parametrize("sheet", SHEETS)
def test_a_stranger_signs_in_first(client: Client, demo_plan: Plan, sheet: str) -> None:
    for end in ("/", ".pdf"):
        answer = client.get(f"/paper/{sheet.format(plan=demo_plan.pk)}{end}")
        assert answer.status_code == 302
        assert answer["Location"].startswith("/sign-in/")


@pytest.mark.parametrize("sheet", SHEETS)
def test_every_sheet_is_a_page(page: Client, demo_plan: Plan, sheet: str) -> None:
    answer = page.get(f"/paper/{sheet.format(plan=demo_plan.pk)}/")
    assert answer.status_code == 200
    assert "made Fri 3 Sep 06:45 from" in answer.text


def test_the_qr_leads_to_the_address_it_was_asked_at(
    page: Client, demo_plan: Plan
) -> None:
    answer = page.get(f"/paper/teardown/{demo_plan.pk}/")
    assert f"http://testserver/plans/{demo_plan.pk}/steps/1/" in answer.text


def test_a_pdf_has_its_name_and_its_paper(page: Client, demo_plan: Plan) -> None:
    answer = page.get("/paper/receiving/P04.pdf?paper=letter")
    assert answer["Content-Type"] == "application/pdf"
    assert 'filename="receiving-P04.pdf"' in answer["Content-Disposition"]
    assert sizes_mm(answer.content) == [(216, 279)]


def test_a_copy_for_the_apron_has_two_pages_on_one(
    page: Client, demo_plan: Plan
) -> None:
    whole = page.get(f"/paper/teardown/{demo_plan.pk}.pdf")
    folded = page.get(f"/paper/teardown/{demo_plan.pk}.pdf?paper=apron-a4")
    sides = len(sizes_mm(whole.content))
    assert sizes_mm(folded.content) == [(297, 210)] * -(-sides // 2)


def test_an_unknown_paper_is_refused_by_name(page: Client) -> None:
    answer = page.get("/paper/wall.pdf?paper=a3")
    assert answer.status_code == 422
    assert "Paper: “a3” is not known. Choose a4 or letter." in answer.text


def test_a_sheet_of_nothing_is_not_found(page: Client) -> None:
    answer = page.get("/paper/receiving/P99/")
    assert answer.status_code == 404
    assert "Nothing of that name is known here." in answer.text


def test_without_pango_the_page_says_so_and_leads_to_the_sheet(
    page: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    def off(self: Sheet, **asked: Any) -> bytes:
        raise render.PdfOff("PDF is off on this machine.")

    monkeypatch.setattr(Sheet, "pdf", off)
    answer = page.get("/paper/wall.pdf")
    assert answer.status_code == 503
    assert "PDF is off on this machine." in answer.text
    assert 'href="/paper/wall/"' in answer.text


def test_a_viewer_may_print(client: Client, demo_plan: Plan, odile: Person) -> None:
    viewer = Person.objects.create(name="Vera", role="viewer")
    client.force_login(viewer)
    assert client.get(f"/paper/teardown/{demo_plan.pk}/").status_code == 200
