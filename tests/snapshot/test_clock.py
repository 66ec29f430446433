"""The plan's clock keeps the offset of now, so that minutes stay real minutes."""

from __future__ import annotations

from datetime import UTC, date, datetime, timedelta

import pytest

from fabshop.snapshot import plan_clock
from tests.factories import MOMENT, ShopFactory

pytestmark = pytest.mark.django_db


def test_moments_go_to_the_plan_and_back():
    ShopFactory(zone="Europe/London")
    clock = plan_clock(MOMENT)
    assert clock.offset_minutes == 60
    assert clock.to_plan(MOMENT) == datetime(2027, 9, 3, 6, 45)
    assert clock.to_aware(datetime(2027, 9, 3, 6, 45)) == MOMENT


def test_before_there_is_a_shop_it_is_utc():
    assert plan_clock(MOMENT).to_plan(MOMENT) == datetime(2027, 9, 3, 5, 45)


def test_row_16_across_a_clock_change_differences_are_real_minutes():
    ShopFactory(zone="Europe/London")
    # Clocks go back at 02:00 on Sunday 2027-10-31: that night has 25 hours.
    clock = plan_clock(datetime(2027, 10, 30, 12, tzinfo=UTC))
    night = clock.on_wall(date(2027, 10, 31), 540) - clock.on_wall(
        date(2027, 10, 30), 540
    )
    assert night == timedelta(hours=25)
    assert clock.on_wall(date(2027, 10, 31), 540) == datetime(2027, 10, 31, 10)


def test_the_days_on_which_wall_and_plan_part_are_named():
    ShopFactory(zone="Europe/London")
    shifts = plan_clock(MOMENT).wall_shifts(date(2027, 9, 3))
    assert shifts == ((date(2027, 10, 31), -60), (date(2028, 3, 26), 0))
    ShopFactory(id=1).delete()
    assert plan_clock(MOMENT).wall_shifts(date(2027, 9, 3)) == ()


def test_the_end_of_a_day_is_the_start_of_the_next():
    ShopFactory(zone="Europe/London")
    clock = plan_clock(MOMENT)
    assert clock.on_wall(date(2027, 9, 3), 1440) == datetime(2027, 9, 4)


def test_the_day_is_the_shops_own():
    ShopFactory(zone="Pacific/Auckland")
    clock = plan_clock(MOMENT)
    assert clock.day_of(datetime(2027, 9, 3, 13, tzinfo=UTC)) == date(2027, 9, 4)
