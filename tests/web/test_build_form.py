"""Getting a build in, and beginning another as a copy of it."""

import pytest

from fabshop.records.build import Build
from tests.factories import BuildFactory, ComponentFactory, CoverFactory

pytestmark = pytest.mark.django_db


def test_a_name_and_a_letter_are_enough(client, owner):
    client.force_login(owner)
    answer = client.post("/builds/new/", {"name": "Tuppence", "letter": "T"})
    assert answer.url == "/builds/tuppence/components/new/"
    assert Build.objects.get().letter == "T"


def test_pack_out_is_read_on_the_wall_clock_of_the_shop(client, owner):
    client.force_login(owner)
    client.post(
        "/builds/new/",
        {"name": "Tuppence", "letter": "T", "pack_out_at": "2027-09-22T12:00"},
    )
    assert Build.objects.get().pack_out_at.isoformat() == "2027-09-22T11:00:00+00:00"
    assert 'value="2027-09-22T12:00"' in client.get("/builds/tuppence/change/").text


def test_what_is_wrong_is_named_and_the_rest_kept(client, owner):
    client.force_login(owner)
    answer = client.post(
        "/builds/new/",
        {"name": "", "letter": "TOOLONG", "event_name": "Trial", "event_on": "soon"},
    )
    assert answer.status_code == 422
    assert "Name: nothing is written." in answer.text
    assert "“soon” is not a day" in answer.text
    assert 'value="Trial"' in answer.text and 'value="TOOLONG"' in answer.text


def test_row_18_an_event_in_the_past_is_kept(client, owner):
    """Row 18: an event date in the past, an event moved."""
    build = BuildFactory(slug="tuppence")
    client.force_login(owner)
    fields = {"name": "Tuppence", "event_on": "2020-01-01", "event_name": "Trial"}
    assert client.post("/builds/tuppence/change/", fields).status_code == 302
    build.refresh_from_db()
    assert build.event_on.year == 2020
    assert client.get("/builds/tuppence/").status_code == 200


def test_row_66_a_copy_starts_fresh(client, owner):
    """Row 66: components and covers are copied, what was done is not."""
    build = BuildFactory(slug="tuppence", letter="T")
    roof = ComponentFactory(build=build, code="T08", state="final")
    CoverFactory(under=ComponentFactory(build=build, code="T09"), cover=roof)
    client.force_login(owner)
    answer = client.post(
        "/builds/tuppence/copy/", {"name": "Penny", "letter": "P"}, follow=True
    )
    assert "Penny starts as" in answer.text
    copied = Build.objects.get(slug="penny").components.get(code="P09")
    assert [cover.cover.code for cover in copied.covers.all()] == ["P08"]
    assert copied.state == "missing"


def test_a_letter_that_is_taken_is_refused(client, owner):
    BuildFactory(letter="T", name="Tuppence")
    client.force_login(owner)
    answer = client.post("/builds/new/", {"name": "Tea", "letter": "t"})
    assert answer.status_code == 409
    assert "Tuppence has the letter T." in answer.text


def test_a_closed_build_is_still_read(client, owner):
    BuildFactory(slug="sparrow", name="Sparrow")
    client.force_login(owner)
    client.post("/builds/sparrow/close/")
    assert client.get("/builds/sparrow/").status_code == 200
    assert client.get("/builds/sparrow/tasks/").status_code == 200


def test_a_helper_makes_no_builds(client, helper):
    client.force_login(helper)
    assert client.get("/builds/new/").status_code == 403
