"""The short address finds any code, however it is written."""

import pytest

from tests.factories import BuildFactory, ComponentFactory, OrderFactory, TaskFactory

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
