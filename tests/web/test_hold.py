"""A hold: readings by anybody, the owner signs, what lies over it stays open."""

import pytest
from freezegun import freeze_time

from fabshop import words
from fabshop.records.task import HoldSigning, ReadingTaken
from tests.factories import (
    MOMENT,
    BuildFactory,
    ComponentFactory,
    CoverFactory,
    ReadingFactory,
    SiteFactory,
    TaskFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture(autouse=True)
def _at_the_moment():
    with freeze_time(MOMENT):
        yield


@pytest.fixture
def hold(shop):
    """W23: a tick and a voltage from 7.0 to 8.4 V, zone T13, under T10."""
    build = BuildFactory()
    task = TaskFactory(code="W23", title="Powered test", build=build, is_hold=True)
    ReadingFactory(task=task, number=1, label="Motor turns")
    ReadingFactory(
        task=task,
        number=2,
        label="Voltage under load",
        kind=words.ReadingKind.NUMBER,
        unit="V",
        low="7.0",
        high="8.4",
    )
    loom = ComponentFactory(build=build, code="T13", name="Main loom")
    dash = ComponentFactory(build=build, code="T10", name="Dash panel")
    CoverFactory(under=loom, cover=dash)
    SiteFactory(task=task, component=loom, kind=words.SiteKind.REACH)
    return task


GOOD = {"reading-1": "1", "reading-2": "7,6", "do": "sign"}


def test_the_page_says_what_may_not_be_closed(client, helper, hold):
    client.force_login(helper)
    text = client.get("/tasks/W23/hold/").text
    assert "Do not close T10 until it is signed." in text
    assert "from 7 to 8.4 V" in text


def test_the_owner_signs_when_all_is_read(client, owner, hold):
    client.force_login(owner)
    answer = client.post("/tasks/W23/hold/", GOOD, follow=True)
    assert "W23 is signed." in answer.text
    hold.refresh_from_db()
    assert hold.state == words.TaskState.DONE


def test_a_missing_reading_is_named_and_the_taken_one_kept(client, owner, hold):
    client.force_login(owner)
    answer = client.post("/tasks/W23/hold/", {"reading-1": "1", "do": "sign"})
    assert answer.status_code == 422
    assert "Voltage under load: not taken yet." in answer.text
    assert ReadingTaken.objects.count() == 1
    assert not HoldSigning.objects.exists()


def test_a_figure_out_of_bounds_is_kept_and_not_signed(client, owner, hold):
    client.force_login(owner)
    answer = client.post("/tasks/W23/hold/", {**GOOD, "reading-2": "6.4"})
    assert answer.status_code == 422
    assert "6.4 V is below 7 V" in answer.text
    assert f"{ReadingTaken.objects.get(reading__number=2).value:.1f}" == "6.4"


def test_row_65_a_helper_reads_but_does_not_sign(client, helper, hold):
    """Row 65: 403 in words; the reading is kept, unsigned."""
    client.force_login(helper)
    answer = client.post("/tasks/W23/hold/", GOOD)
    assert answer.status_code == 403
    assert "A helper cannot sign a hold; the reading is kept, unsigned." in answer.text
    assert ReadingTaken.objects.count() == 2
    assert 'value="7.6"' in answer.text


def test_row_65_a_helper_does_not_waive(client, helper, hold):
    """Row 65: nor waive."""
    client.force_login(helper)
    answer = client.post("/tasks/W23/hold/", {"do": "waive", "reason": "late"})
    assert answer.status_code == 403
    assert not HoldSigning.objects.exists()


def test_a_waiver_needs_a_reason_and_stays_visible(client, owner, hold):
    client.force_login(owner)
    answer = client.post("/tasks/W23/hold/", {"do": "waive"})
    assert answer.status_code == 422
    assert "waived with a reason or not at all" in answer.text
    client.post("/tasks/W23/hold/", {"do": "waive", "reason": "No time, tested at G."})
    assert "No time, tested at G." in client.get("/tasks/W23/hold/").text


def test_a_fail_asks_for_the_readings_again(client, owner, hold):
    client.force_login(owner)
    client.post("/tasks/W23/hold/", {"reading-1": "1", "reading-2": "7.6"})
    with freeze_time(MOMENT.replace(hour=7)):
        client.post("/tasks/W23/hold/", {**GOOD, "do": "fail", "reason": "no reverse"})
        text = client.get("/tasks/W23/hold/").text
    assert "failed" in text and "no reverse" in text
    assert 'name="reading-2" value=""' in text


def test_row_9_a_hold_failed_after_it_was_signed_is_open_again(client, owner, hold):
    """Row 9: the hold fails later; the reading is kept and it is open again."""
    client.force_login(owner)
    client.post("/tasks/W23/hold/", GOOD)
    client.post("/tasks/W23/hold/", {"do": "fail", "reason": "smoke"})
    hold.refresh_from_db()
    assert hold.state == words.TaskState.OPEN
    assert ReadingTaken.objects.count() == 2


def test_what_is_no_figure_is_named(client, owner, hold):
    client.force_login(owner)
    answer = client.post("/tasks/W23/hold/", {**GOOD, "reading-2": "lots"})
    assert answer.status_code == 422
    assert "Voltage under load: “lots” is not a figure." in answer.text


def test_a_task_that_is_no_hold_has_nothing_to_sign(client, owner, hold):
    TaskFactory(code="W20", build=hold.build)
    client.force_login(owner)
    assert client.get("/tasks/W20/hold/").status_code == 404


def test_a_double_tap_signs_once(client, owner, hold):
    client.force_login(owner)
    for _ in range(2):
        client.post("/tasks/W23/hold/", {**GOOD, "client_id": "tap-3"})
    assert HoldSigning.objects.count() == 1
    assert ReadingTaken.objects.count() == 2
