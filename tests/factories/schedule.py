"""Factories of kept shop plans and of when somebody is in."""

from __future__ import annotations

import factory
from factory.django import DjangoModelFactory

from fabshop.records import schedule
from tests.factories.moment import MOMENT
from tests.factories.shop import PersonFactory


class PresenceFactory(DjangoModelFactory[schedule.Presence]):
    class Meta:
        model = schedule.Presence

    weekday = 0
    from_minute = factory.Sequence(lambda n: n % 1200)
    to_minute = 1300


class ShopPlanFactory(DjangoModelFactory[schedule.ShopPlan]):
    class Meta:
        model = schedule.ShopPlan

    edition = "A"
    question = factory.LazyFunction(
        lambda: {"origin": "2027-09-03T06:45", "activities": [], "resources": []}
    )
    answer = factory.LazyFunction(
        lambda: {"activities": [], "left_out": [], "points": 0, "finish": None}
    )
    beside = factory.LazyFunction(lambda: {"tasks": {}})
    stands_on = factory.LazyFunction(lambda: {"W1": "0" * 12})
    digest = "0" * 64
    made_by = factory.SubFactory(PersonFactory)
    made_at = MOMENT
