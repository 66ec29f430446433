"""A component's page: what shuts it in, taking it off, and the hold it would close."""

import pytest
from freezegun import freeze_time

from fabshop import words
from fabshop.records.log import LogEntry
from tests.factories import (
    MOMENT,
    BuildFactory,
    ComponentFactory,
    CoverFactory,
    FasteningFactory,
    SiteFactory,
    TaskFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _at_the_moment():
    with freeze_time(MOMENT):
        yield


@pytest.fixture
def seat(shop):
    """T11 the seat tub lies under T12 the figure, which lies under T08 the roof."""
    build = BuildFactory(name="Tuppence", slug="tuppence")
    roof = ComponentFactory(build=build, code="T08", name="Roof plate", off_minutes=5)
    figure = ComponentFactory(build=build, code="T12", name="Figure", off_minutes=2)
    seat = ComponentFactory(build=build, code="T11", name="Seat tub", off_minutes=5)
    for under, cover in ((seat, figure), (figure, roof), (seat, roof)):
        CoverFactory(under=under, cover=cover)
    return seat


@pytest.fixture
def hold(seat):
    task = TaskFactory(code="W23", title="Powered test", build=seat.build, is_hold=True)
    loom = ComponentFactory(build=seat.build, code="T13", name="Main loom")
    CoverFactory(under=loom, cover=seat)
    SiteFactory(task=task, component=loom, kind=words.SiteKind.REACH)
    return task


def test_what_shuts_it_in_is_said_outermost_first_with_minutes(client, viewer, seat):
    client.force_login(viewer)
    text = client.get("/components/T11/").text
    assert "Shut in by T08, T12: 7 min to get to it." in text


def test_fastenings_and_locker_are_shown(client, viewer, seat):
    FasteningFactory(
        component=seat, count=4, size="M3×8 BH", locker=words.Locker.MEDIUM, bag="B07"
    )
    client.force_login(viewer)
    text = client.get("/components/T11/").text
    assert "4×M3×8 BH, medium thread-locker" in text and "bag B07" in text


def test_it_does_not_come_off_while_shut_in(client, helper, seat):
    client.force_login(helper)
    answer = client.post("/components/T11/off/")
    assert answer.status_code == 409
    assert "T11 Seat tub lies under" in answer.text
    assert "Take off all 3, in this order" in answer.text


def test_it_comes_off_with_what_lies_over_it(client, helper, seat):
    client.force_login(helper)
    client.post("/components/T11/off/", {"with_covers": "1", "client_id": "tap-9"})
    assert not seat.build.components.filter(is_on=True).exists()
    text = client.get("/components/T11/").text
    assert "taken off" in text and "Hal" in text
    # The same tap again takes nothing off twice.
    entries = LogEntry.objects.count()
    client.post("/components/T11/off/", {"with_covers": "1", "client_id": "tap-9"})
    assert LogEntry.objects.count() == entries


def test_row_8_a_refit_over_an_unsigned_hold_names_the_hold(client, helper, seat, hold):
    """Row 8: refit over an unsigned hold."""
    seat.is_on = False
    seat.save()
    client.force_login(helper)
    answer = client.post("/components/T11/on/")
    assert answer.status_code == 409
    assert "W23 Powered test" in answer.text
    seat.refresh_from_db()
    assert not seat.is_on


def test_what_is_missing_has_no_key_to_take_off(client, helper, seat):
    ComponentFactory(build=seat.build, code="T29", state="missing", is_on=False)
    client.force_login(helper)
    text = client.get("/components/T29/").text
    assert "Not made yet" in text and "Take off" not in text
    assert client.post("/components/T29/on/").status_code == 409


def test_another_state_is_said_by_one_key(client, helper, seat):
    client.force_login(helper)
    client.post("/components/T11/swap/", {"state": "stand-in"})
    seat.refresh_from_db()
    assert seat.state == words.ComponentState.STAND_IN


def test_its_tasks_and_order_lines_are_listed(client, viewer, seat, hold):
    client.force_login(viewer)
    assert "W23" in client.get("/components/T13/").text


def test_a_viewer_takes_nothing_off(client, viewer, seat):
    client.force_login(viewer)
    assert client.post("/components/T08/off/").status_code == 403
    assert "Take off" not in client.get("/components/T08/").text


def test_an_unknown_code_is_not_found(client, viewer):
    client.force_login(viewer)
    assert client.get("/components/T77/").status_code == 404


def test_the_page_takes_as_many_queries_with_many_covers(
    client, viewer, seat, hold, django_assert_num_queries, django_assert_max_num_queries
):
    client.force_login(viewer)
    client.get("/components/T11/")
    with django_assert_max_num_queries(60) as few:
        client.get("/components/T11/")
    for number in range(15):
        more = ComponentFactory(build=seat.build, code=f"X{number}")
        CoverFactory(under=seat, cover=more)
        FasteningFactory(component=seat)
    with django_assert_num_queries(len(few)):
        client.get("/components/T11/")


def test_row_10_off_already_is_no_error(client, helper, seat):
    """Row 10: what is off already."""
    seat.is_on = False
    seat.save()
    client.force_login(helper)
    assert client.post("/components/T11/off/").status_code == 302
    assert "Shut in by" not in client.get("/components/T11/").text


def test_row_7_bonded_parts_are_asked_about_before_they_are_destroyed(
    client, helper, seat
):
    """Row 7: a permanent part in the way is never an ordinary removal."""
    seat.is_for_good = True
    seat.save()
    client.force_login(helper)
    answer = client.post("/components/T11/off/", {"with_covers": "1"})
    assert answer.status_code == 409
    assert "taking it off destroys it" in answer.text
    assert 'name="with_covers" value="1"' in answer.text
    client.post("/components/T11/off/", {"with_covers": "1", "confirm": "yes"})
    seat.refresh_from_db()
    assert not seat.is_on


def test_the_owner_is_offered_to_put_it_on_for_now_and_reads_that_it_comes_off(
    client, owner, helper, seat, hold
):
    seat.is_on = False
    seat.save()
    client.force_login(helper)
    assert "for_now" not in client.post("/components/T11/on/").text
    client.force_login(owner)
    refused = client.post("/components/T11/on/")
    assert refused.status_code == 409 and 'name="for_now"' in refused.text
    client.post("/components/T11/on/", {"for_now": "rolled outside"})
    for page in ("/components/T11/", "/builds/tuppence/", "/tasks/W23/hold/"):
        text = client.get(page).text
        assert "must come off again" in text and "rolled outside" in text, page
