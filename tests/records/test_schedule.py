"""What may never be true of a kept shop plan, and of when somebody is in."""

from __future__ import annotations

from datetime import datetime

import pytest
from django.db import IntegrityError

from fabshop.records.schedule import Presence, ShopPlan
from fabshop.records.shop import Person

pytestmark = pytest.mark.django_db


def kept(owner: Person, now: datetime, **said: object) -> ShopPlan:
    fields: dict[str, object] = {"edition": "A", "question": {}, "answer": {}}
    return ShopPlan.objects.create(made_by=owner, made_at=now, **(fields | said))


def test_only_one_plan_is_current(owner: Person, now: datetime) -> None:
    kept(owner, now)
    with pytest.raises(IntegrityError):
        kept(owner, now, edition="B")


def test_a_letter_is_given_once(owner: Person, now: datetime) -> None:
    kept(owner, now, is_current=False)
    with pytest.raises(IntegrityError):
        kept(owner, now)


def test_earlier_plans_stay(owner: Person, now: datetime) -> None:
    kept(owner, now, is_current=False)
    current = kept(owner, now, edition="B")
    assert list(ShopPlan.objects.kept()) == [current]


def test_a_plan_has_a_letter(owner: Person, now: datetime) -> None:
    with pytest.raises(IntegrityError):
        kept(owner, now, edition="")


@pytest.mark.parametrize(
    ("weekday", "begins", "ends"), [(7, 400, 450), (0, 450, 400), (0, 400, 1441)]
)
def test_presence_lies_within_a_day_of_the_week(
    shop: object, weekday: int, begins: int, ends: int
) -> None:
    with pytest.raises(IntegrityError):
        Presence.objects.create(weekday=weekday, from_minute=begins, to_minute=ends)
