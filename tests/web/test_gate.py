"""The gate: strangers, roles, a shop that is not set up, and refusals in words."""

import pytest
from django.test import Client

from tests.factories import PersonFactory, WindowFactory

pytestmark = pytest.mark.django_db


def test_a_stranger_is_sent_to_sign_in_and_htmx_is_told_to_go_there(client, shop):
    assert client.get("/hours/").url == "/sign-in/?next=%2Fhours%2F"
    told = client.get("/hours/", headers={"HX-Request": "true"})
    assert told.headers["HX-Redirect"] == "/sign-in/?next=%2Fhours%2F"


def test_a_helper_in_a_shop_without_a_name_is_told_to_wait(db):
    client = Client()
    client.force_login(PersonFactory(role="helper"))
    answer = client.get("/")
    assert answer.status_code == 403
    assert "The owner has not set up the shop yet." in answer.text


def test_a_refusal_on_a_bare_button_is_a_page_with_its_status(helpers_page, owner):
    window = WindowFactory(person=owner)
    answer = helpers_page.post(f"/hours/{window.pk}/remove/", {"why": "a slip"})
    assert answer.status_code == 403
    assert "Only the owner does that." in answer.text
    assert 'name="why" value="a slip"' in answer.text


def test_the_shops_zone_holds_inside_a_page_whatever_the_server_is_on(page, settings):
    settings.TIME_ZONE = "Asia/Tokyo"
    assert "Fri 3 Sep 06:45" in page.get("/").text


def test_who_was_retired_is_a_stranger_again(page, owner):
    owner.is_active = False
    owner.save()
    assert page.get("/").status_code == 302


def test_a_phone_whose_clock_is_hours_off_is_told_so_once(page, shop):
    sent = {"text": "x", "at": "2027-09-03T10:45+01:00"}
    sent["sent_at"] = sent["at"]
    text = page.post("/log/note/", sent, follow=True).text
    assert "This phone's clock is 4 h ahead." in text.replace("&#x27;", "'")
    assert "Shop log, Fri 3 Sep 06:45" in text, "the shop's time is what counts"
