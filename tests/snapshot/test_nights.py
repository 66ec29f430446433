"""The one list of runs that every page reads."""

from __future__ import annotations

import pytest

from fabshop.reckoning.overnight import machine_nights
from fabshop.snapshot import take
from fabshop.snapshot.kept_plan import kept_plan
from fabshop.snapshot.nights import nights_of
from fabshop.snapshot.schedule import attended
from tests.factories import MOMENT

pytestmark = pytest.mark.django_db


def test_without_a_plan_the_order_that_is_over_soonest(demo, django_assert_num_queries):
    facts = take(MOMENT)
    with django_assert_num_queries(2):
        nights = nights_of(facts, None, MOMENT)
    assert nights == machine_nights(facts, attended(facts, MOMENT))
    assert not any(night.is_planned for night in nights)


def test_with_a_plan_its_own_order(demo_shop_plan):
    facts = take(MOMENT)
    nights = nights_of(facts, kept_plan(facts), MOMENT)
    assert nights
    assert all(night.is_planned for night in nights)
