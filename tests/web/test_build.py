"""Fitted: what sits where, what is off, what lies under what, which twin is behind."""

import pytest

from fabshop import words
from tests.factories import BuildFactory, ComponentFactory, CoverFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def tuppence(shop):
    return BuildFactory(name="Tuppence", slug="tuppence")


def place(build, code, name, **fields):
    return ComponentFactory(build=build, code=code, name=name, **fields)


def test_a_stranger_signs_in_first(client, tuppence):
    assert client.get("/builds/tuppence/").status_code == 302


def test_builds_say_what_is_missing_on_each(client, viewer, tuppence):
    place(tuppence, "T29", "Light bar", state="missing", is_on=False)
    place(tuppence, "T04", "Nose cone", state="stand-in")
    client.force_login(viewer)
    text = client.get("/builds/").text
    assert "2 components, 1 stand-in, 1 missing" in text


def test_stand_ins_are_stamped_and_stand_above_what_is_final(client, viewer, tuppence):
    place(tuppence, "T08", "Roof plate")
    place(tuppence, "T04", "Nose cone", state="stand-in")
    client.force_login(viewer)
    text = client.get("/builds/tuppence/").text
    assert text.index(">stand-ins</span></h2>") < text.index("Nose cone")
    assert text.index("Nose cone") < text.index(">final</span></h2>")
    assert "1 stand-in, 1 final; nothing is off now." in text


def test_what_lies_under_what_is_drawn_and_said(client, viewer, tuppence):
    roof = place(tuppence, "T08", "Roof plate")
    cowl = place(tuppence, "T09", "Scuttle cowl", state="dry-fit")
    CoverFactory(under=cowl, cover=roof)
    client.force_login(viewer)
    text = client.get("/builds/tuppence/").text
    assert "lies under T08" in text
    assert text.count("<path d=") == 1
    assert 'aria-label="T09 Scuttle cowl, dry-fit"' in text


def test_a_twin_that_is_behind_is_said(client, viewer, tuppence):
    left = place(tuppence, "T31", "Air duct L")
    right = place(tuppence, "T32", "Air duct R", state="stand-in", twin=left)
    left.twin = right
    left.save()
    client.force_login(viewer)
    text = client.get("/builds/tuppence/").text
    assert "Air duct L is final, its twin" in text


def test_what_is_off_is_put_on_by_one_tap(client, helper, tuppence):
    roof = place(tuppence, "T08", "Roof plate", is_on=False)
    client.force_login(helper)
    text = client.get("/builds/tuppence/").text
    assert "1 off now." in text and 'aria-label="Put on T08"' in text
    client.post("/components/T08/on/")
    roof.refresh_from_db()
    assert roof.is_on


def test_a_retired_component_is_not_listed(client, viewer, tuppence):
    place(tuppence, "T99", "Old wing", state=words.ComponentState.RETIRED, is_on=False)
    client.force_login(viewer)
    assert "Old wing" not in client.get("/builds/tuppence/").text


def test_row_56_a_name_that_is_a_script_is_shown_as_written(client, viewer, tuppence):
    """Row 56: <script> in a part's name."""
    place(tuppence, "T98", "<script>alert(1)</script>")
    client.force_login(viewer)
    text = client.get("/builds/tuppence/").text
    assert "<script>alert" not in text
    assert "&lt;script&gt;alert(1)" in text


def test_fitted_takes_as_many_queries_for_many_components(
    client, viewer, tuppence, django_assert_num_queries, django_assert_max_num_queries
):
    roof = place(tuppence, "T08", "Roof plate")
    CoverFactory(cover=roof, under=place(tuppence, "T09", "Cowl"))
    client.force_login(viewer)
    client.get("/builds/tuppence/")
    with django_assert_max_num_queries(25) as few:
        client.get("/builds/tuppence/")
    for number in range(30):
        CoverFactory(cover=roof, under=place(tuppence, f"X{number}", "More"))
    with django_assert_num_queries(len(few)):
        client.get("/builds/tuppence/")
