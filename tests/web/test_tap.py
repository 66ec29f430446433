"""What a tap carries: the phone's id and time, corrected by how far it is astray."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from django.test import RequestFactory
from django.utils import timezone
from freezegun import freeze_time

from fabshop.errors import BadInput
from fabshop.web.tap import answered, astray, tap

NOW = datetime(2027, 9, 3, 5, 45, tzinfo=UTC)


@pytest.fixture(autouse=True)
def frozen():
    with freeze_time(NOW):
        yield


def request(**typed):
    made = RequestFactory().post("/", typed)
    made.user = "Olive"
    return made


def test_without_a_phones_word_it_happened_now():
    said = tap(request())
    assert said == {"by": "Olive", "now": NOW, "at": NOW, "client_id": None}


def test_what_waited_on_the_phone_happened_when_it_was_tapped():
    said = tap(
        request(at="2027-09-02T22:00:00+01:00", sent_at="2027-09-03T06:45:00+01:00")
    )
    assert said["at"] == datetime(2027, 9, 2, 21, 0, tzinfo=UTC)


def test_a_clock_that_is_days_wrong_is_put_right_and_said():
    wrong = request(
        at="2027-09-06T06:15:00+01:00",
        sent_at="2027-09-06T06:45:00+01:00",
        client_id="tap-1",
    )
    assert tap(wrong)["at"] == NOW - timedelta(minutes=30)
    assert astray(wrong) == timedelta(days=3)
    assert astray(request(sent_at="2027-09-03T06:50:00+01:00")) is None


@pytest.mark.parametrize("at", ["", "yesterday", "2027-09-03T06:45", "9999-99-99"])
def test_a_time_that_is_none_counts_as_now(at):
    assert tap(request(at=at, sent_at=at))["at"] == NOW


def test_a_tap_is_never_after_its_own_sending():
    late = request(at="2027-09-03T07:45:00+01:00", sent_at="2027-09-03T06:45:00+01:00")
    assert tap(late)["at"] == NOW


def test_an_end_picked_on_the_page_is_on_the_shops_clock():
    with timezone.override(ZoneInfo("Europe/London")):
        picked = answered(request(ended_at="2027-09-03T06:00"))
        assert picked["ended_at"] == datetime(2027, 9, 3, 5, 0, tzinfo=UTC)
        with pytest.raises(BadInput, match="is not a moment"):
            answered(request(ended_at="soon"))
