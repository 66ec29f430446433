"""Factories of the shop, its people, hours and machines."""

from __future__ import annotations

from datetime import timedelta

import factory
from factory.django import DjangoModelFactory

from fabshop import words
from fabshop.records import shop
from tests.factories.moment import MOMENT, TODAY


class ShopFactory(DjangoModelFactory[shop.Shop]):
    class Meta:
        model = shop.Shop
        django_get_or_create = ("id",)

    id = 1
    name = "The half garage"
    zone = "Europe/London"
    made_at = MOMENT


class PersonFactory(DjangoModelFactory[shop.Person]):
    class Meta:
        model = shop.Person
        skip_postgeneration_save = True

    name = factory.Sequence(lambda n: f"Person {n}")
    role = words.Role.OWNER
    password = factory.django.Password("a long enough password")


class SignInLinkFactory(DjangoModelFactory[shop.SignInLink]):
    class Meta:
        model = shop.SignInLink

    person = factory.SubFactory(PersonFactory)
    token_hash = factory.Sequence(lambda n: f"{n:064x}")
    made_at = MOMENT
    expires_at = MOMENT + timedelta(hours=24)


class WindowFactory(DjangoModelFactory[shop.Window]):
    class Meta:
        model = shop.Window

    person = factory.SubFactory(PersonFactory)
    on = TODAY
    from_minute = 19 * 60
    to_minute = 22 * 60


class DayFactory(DjangoModelFactory[shop.Day]):
    class Meta:
        model = shop.Day

    on = factory.Sequence(lambda n: TODAY + timedelta(days=n))


class MachineFactory(DjangoModelFactory[shop.Machine]):
    class Meta:
        model = shop.Machine

    code = factory.Sequence(lambda n: f"machine-{n}")
    name = factory.Sequence(lambda n: f"Machine {n}")
