"""The short address finds any code, however it is written."""

import pytest

from tests.factories import (
    MOMENT,
    BuildFactory,
    ComponentFactory,
    OrderFactory,
    PieceFactory,
    TaskFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def things(shop):
    build = BuildFactory(slug="tuppence")
    TaskFactory(code="W22", build=build)
    ComponentFactory(code="T13", build=build)
    OrderFactory(code="P05", build=build)


@pytest.mark.parametrize(
    ("code", "there"),
    [
        ("W22", "/tasks/W22/"),
        ("w22", "/tasks/W22/"),
        ("T13", "/components/T13/"),
        ("P05", "/orders/P05/"),
        ("Tuppence", "/builds/tuppence/"),
    ],
)
def test_a_code_leads_to_its_page(page, code, there):
    assert page.get(f"/go/{code}/").url == there


def test_a_code_of_another_shop_says_so(page):
    answer = page.get("/go/Z99/")
    assert answer.status_code == 404
    assert "Nothing here is called “Z99”. The sheet may be of another shop." in (
        answer.text
    )


def test_a_stranger_signs_in_first_and_lands_there_afterwards(client):
    assert client.get("/go/W22/").url == "/sign-in/?next=%2Fgo%2FW22%2F"


def test_row_59_a_code_of_what_is_gone_lands_on_what_it_was(page):
    """Row 59: the square code of a scrapped part, a given up task, a cut up piece."""
    ComponentFactory(code="T99", state="retired", is_on=False)
    TaskFactory(code="W99", state="given-up", done_at=MOMENT)
    PieceFactory(code="M99", retired_at=MOMENT, retired_why="Used up")
    for code, said in (("T99", "retired"), ("W99", "given up"), ("M99", "Used up")):
        answer = page.get(f"/go/{code}/", follow=True)
        assert answer.status_code == 200
        assert said in answer.text


def test_row_59_a_code_of_another_shop_says_so(page):
    """Row 59: nothing here is called that."""
    answer = page.get("/go/XYZ-77/")
    assert answer.status_code == 404
    assert "The sheet may be of another shop." in answer.text
