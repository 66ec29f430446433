"""Getting a component in: itself, what lies over it, how it is held, its twin."""

import pytest

from fabshop.records.build import Component
from tests.factories import BuildFactory, ComponentFactory, CoverFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def tuppence(shop):
    return BuildFactory(slug="tuppence", letter="T")


@pytest.fixture
def dash(tuppence):
    ComponentFactory(build=tuppence, code="T08", name="Roof plate")
    ComponentFactory(build=tuppence, code="T09", name="Scuttle cowl")
    return ComponentFactory(build=tuppence, code="T10", name="Dash panel")


NEW = "/builds/tuppence/components/new/"


def test_one_screen_leads_to_the_next(client, owner, dash):
    client.force_login(owner)
    answer = client.post(NEW, {"code": "T13", "name": "Main loom", "off_minutes": "25"})
    assert answer.url == "/components/T13/covers/?new=1"
    answer = client.post(answer.url, {"route-1": ["T10", "T09"], "routes": "1"})
    assert answer.url == "/components/T13/fastenings/?new=1"
    answer = client.post(
        answer.url, {"f-0-count": "9", "f-0-size": "ties", "f-0-other": "yes"}
    )
    assert answer.url == "/components/T13/twin/?new=1"
    answer = client.post(answer.url, {"twin": ""})
    assert answer.url == NEW
    loom = Component.objects.get(code="T13")
    assert [c.cover.code for c in loom.covers.all()] == ["T09", "T10"]
    assert not loom.fastenings.get().is_screw
    assert loom.off_minutes == 25


def test_another_way_to_it_is_another_route(client, owner, dash):
    client.force_login(owner)
    more = client.post(
        "/components/T10/covers/", {"route-1": "T08", "routes": "1", "more": "1"}
    )
    assert more.status_code == 200 and 'name="route-2"' in more.text
    client.post(
        "/components/T10/covers/",
        {"route-1": "T08", "route-2-codes": "T09", "routes": "2"},
    )
    assert sorted(dash.covers.values_list("route", "cover__code")) == [
        (1, "T08"),
        (2, "T09"),
    ]


def test_row_1_a_loop_is_printed_in_words_and_the_form_kept(client, owner, dash):
    """Row 1: T10 under T09 under T10."""
    cowl = Component.objects.get(code="T09")
    CoverFactory(under=cowl, cover=dash)
    client.force_login(owner)
    answer = client.post(
        "/components/T10/covers/", {"route-1": ["T08", "T09"], "routes": "1"}
    )
    assert answer.status_code == 409
    assert "T10 lies under T09" in answer.text
    assert 'value="T08" checked' in answer.text and 'value="T09" checked' in answer.text
    assert not dash.covers.exists()


def test_row_2_a_part_under_itself_is_refused(client, owner, dash):
    """Row 2: part lies under itself."""
    client.force_login(owner)
    answer = client.post(
        "/components/T10/covers/", {"route-1-codes": "T10", "routes": "1"}
    )
    assert answer.status_code in (409, 422)
    assert "T10" in answer.text and "itself" in answer.text


def test_row_3_a_cover_on_another_build_is_refused(client, owner, dash):
    """Row 3: cover link across builds."""
    ComponentFactory(build=BuildFactory(letter="G"), code="G01")
    client.force_login(owner)
    answer = client.post(
        "/components/T10/covers/", {"route-1-codes": "G01", "routes": "1"}
    )
    assert answer.status_code in (409, 422)
    assert 'value="G01"' in answer.text


@pytest.mark.parametrize("minutes", ["", "0"])
def test_row_11_no_minutes_is_unknown_and_nought_is_nought(
    client, owner, tuppence, minutes
):
    """Row 11: handling minutes blank or 0."""
    client.force_login(owner)
    client.post(
        NEW, {"code": "T01", "name": "Frame", "off_minutes": minutes, "on_minutes": "5"}
    )
    expected = None if minutes == "" else 0
    assert Component.objects.get().off_minutes == expected
    text = client.get("/components/T01/").text
    assert ("minutes unknown" in text) is (minutes == "")


def test_row_11_negative_minutes_are_refused(client, owner, tuppence):
    """Row 11: handling minutes negative."""
    client.force_login(owner)
    answer = client.post(NEW, {"code": "T01", "name": "Frame", "off_minutes": "-5"})
    assert answer.status_code == 422
    assert "-5 is less than nothing" in answer.text
    assert 'value="Frame"' in answer.text and 'value="-5"' in answer.text


def test_row_11_a_day_of_minutes_is_asked_about(client, owner, tuppence):
    """Row 11: more than 480 minutes."""
    client.force_login(owner)
    fields = {"code": "T01", "name": "Frame", "off_minutes": "9999"}
    answer = client.post(NEW, fields)
    assert answer.status_code == 409
    assert client.post(NEW, {**fields, "confirm": "yes"}).status_code == 302
    assert Component.objects.get().off_minutes == 9999


def test_row_58_a_code_is_never_used_again(client, owner, tuppence):
    """Row 58: an id reused after it was retired."""
    ComponentFactory(build=tuppence, code="T01", state="retired", is_on=False)
    client.force_login(owner)
    answer = client.post(NEW, {"code": "T01", "name": "Frame"})
    assert answer.status_code == 409
    assert "T01" in answer.text


def test_two_changes_at_once_ask_the_later_one(client, owner, dash):
    client.force_login(owner)
    fields = {"name": "Dash, printed", "version": dash.version}
    client.post("/components/T10/change/", fields)
    late = {**fields, "name": "Dash, cast"}
    answer = client.post("/components/T10/change/", late)
    assert answer.status_code == 409
    assert 'value="Dash, cast"' in answer.text


def test_fastenings_name_their_line_and_keep_the_rows(client, owner, dash):
    client.force_login(owner)
    answer = client.post(
        "/components/T10/fastenings/",
        {"f-0-count": "four", "f-0-size": "M3", "f-1-count": "2", "f-1-size": ""},
    )
    assert answer.status_code == 422
    assert "How many, line 1: “four”" in answer.text
    assert "Size, line 2: nothing is written." in answer.text
    assert 'value="four"' in answer.text
    assert not dash.fastenings.exists()


def test_torque_is_typed_in_newton_metres(client, owner, dash):
    client.force_login(owner)
    client.post(
        "/components/T10/fastenings/",
        {"f-0-count": "4", "f-0-size": "M3×8 BH", "f-0-torque": "1,2"},
    )
    assert dash.fastenings.get().torque_mnm == 1200
    assert 'value="1.2"' in client.get("/components/T10/fastenings/").text


def test_twins_are_linked_both_ways(client, owner, tuppence):
    left = ComponentFactory(build=tuppence, code="T06")
    right = ComponentFactory(build=tuppence, code="T07")
    client.force_login(owner)
    client.post("/components/T06/twin/", {"twin": "T07"})
    left.refresh_from_db()
    right.refresh_from_db()
    assert (left.twin, right.twin) == (right, left)
    client.post("/components/T06/twin/", {"twin": ""})
    right.refresh_from_db()
    assert right.twin is None


def test_a_mass_says_how_it_is_known(client, owner, tuppence):
    client.force_login(owner)
    client.post(
        NEW, {"code": "T01", "name": "Frame", "mass": "612", "mass_basis": "wgd"}
    )
    frame = Component.objects.get()
    assert (frame.mass_mg, frame.mass_basis) == (612_000, "wgd")


def test_a_retired_component_keeps_its_page(client, owner, dash):
    client.force_login(owner)
    answer = client.post("/components/T08/retire/", follow=True)
    assert answer.status_code == 200
    assert "T08 is retired. Its history stays." in answer.text


def test_a_helper_adds_no_components(client, helper, tuppence):
    client.force_login(helper)
    assert client.post(NEW, {"code": "T01", "name": "Frame"}).status_code == 403
