"""One answer of the pages: whole, in part, or refused with its sentence."""

import pytest

pytestmark = pytest.mark.django_db


def test_a_page_that_differs_for_htmx_says_so_to_caches(page):
    assert page.get("/log/").headers["Vary"].startswith("HX-Request, Cookie")


def test_a_boosted_page_is_a_whole_page(page):
    headers = {"HX-Request": "true", "HX-Boosted": "true"}
    assert "<!doctype html>" in page.get("/log/", headers=headers).text


def test_a_refusal_keeps_its_own_status_for_htmx_too(page, shop):
    answer = page.post("/log/note/", {"text": ""}, headers={"HX-Request": "true"})
    assert answer.status_code == 422
    assert "Nothing is written yet." in answer.text
