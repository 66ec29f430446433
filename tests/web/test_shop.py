"""An empty shop's first walk: zone, hours, first build, one thing a screen."""

from datetime import UTC, datetime

import pytest
from django.test import Client

from fabshop.records.build import Build
from fabshop.records.shop import Shop, Window
from tests.factories import PersonFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def phone(frozen):
    client = Client()
    client.force_login(PersonFactory(name="Odile", role="owner"))
    return client


def test_an_empty_shop_leads_the_owner_to_its_first_question(phone):
    assert phone.get("/").url == "/setup/"
    text = phone.get("/setup/").text
    assert "A new shop, 1 of 3" in text
    assert "Where is it?" in text
    assert '<option value="Europe/London">' in text


def test_the_walk_ends_at_what_now(phone):
    named = {"name": "The half garage", "zone": "Europe/London"}
    assert phone.post("/setup/", named).url == "/setup/"
    assert "When are you at the bench?" in phone.get("/setup/").text
    phone.post("/setup/", {"friday-from": "19:00", "friday-to": "22:00"})
    assert "What are you building, and for when?" in phone.get("/setup/").text
    phone.post(
        "/setup/?step=build",
        {
            "name": "Tuppence",
            "letter": "t",
            "event_on": "2027-09-24",
            "pack_out_on": "2027-09-22",
            "pack_out_time": "12:00",
        },
    )
    build = Build.objects.get()
    assert (build.slug, build.letter) == ("tuppence", "T")
    assert build.pack_out_at == datetime(2027, 9, 22, 11, 0, tzinfo=UTC)
    assert Shop.objects.get().zone == "Europe/London"
    assert Window.objects.count() == 13
    assert phone.get("/setup/").url == "/"
    assert phone.get("/").status_code == 200


def test_a_zone_that_is_none_is_refused_and_the_name_stays(phone):
    answer = phone.post("/setup/", {"name": "Shed", "zone": "Mars/Base"})
    assert answer.status_code == 422
    assert "Zone: “Mars/Base” is not known." in answer.text
    assert 'value="Shed"' in answer.text
    assert not Shop.objects.exists()


def test_hours_and_build_may_wait(phone):
    phone.post("/setup/", {"name": "Shed", "zone": "UTC"})
    assert 'href="/setup/?step=build"' in phone.get("/setup/").text
    assert "What are you building" in phone.get("/setup/?step=build").text
    assert phone.get("/").status_code == 200


def test_a_build_without_a_letter_or_with_a_wrong_day_is_refused_whole(phone):
    phone.post("/setup/", {"name": "Shed", "zone": "UTC"})
    answer = phone.post(
        "/setup/?step=build", {"name": "Tuppence", "event_on": "someday"}
    )
    assert answer.status_code == 422
    assert "Letter: nothing is written. It is needed." in answer.text
    assert "“someday” is not a day" in answer.text
    assert not Build.objects.exists()
