from datetime import UTC, date, datetime

import pytest

from fabshop.actions.wall import clock, date_words, day
from fabshop.records.shop import Shop

LATE = datetime(2027, 9, 2, 23, 30, tzinfo=UTC)


@pytest.fixture
def in_berlin(db: None) -> None:
    Shop.objects.create(pk=1, name="B", zone="Europe/Berlin", made_at=LATE)


@pytest.mark.usefixtures("in_berlin")
def test_the_day_is_the_one_on_the_shops_calendar() -> None:
    assert day(LATE) == date(2027, 9, 3)


@pytest.mark.usefixtures("in_berlin")
def test_a_moment_carries_its_day_unless_said_beside_one_of_the_same_day() -> None:
    assert clock(LATE) == "Fri 3 Sep 01:30"
    assert clock(LATE, beside=LATE.replace(hour=22)) == "01:30"
    assert clock(LATE, beside=LATE.replace(hour=21)) == "Fri 3 Sep 01:30"


@pytest.mark.django_db
def test_before_there_is_a_shop_the_clock_is_utc() -> None:
    assert clock(LATE) == "Thu 2 Sep 23:30"


def test_a_day_is_said_with_its_year() -> None:
    assert date_words(LATE.date()) == "Thu 2 Sep 2027"
