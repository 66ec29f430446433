"""The small cast of the tests: a shop, its three people and one moment."""

from __future__ import annotations

from datetime import datetime

import pytest
from django.conf import settings as django_settings

from fabshop import words
from fabshop.records.shop import Person, Shop
from tests.factories import MOMENT, PersonFactory, ShopFactory


def pytest_configure() -> None:
    # The real hasher is slow on purpose, and every person of the cast has a password.
    django_settings.PASSWORD_HASHERS = [
        "django.contrib.auth.hashers.MD5PasswordHasher"
    ]


@pytest.fixture
def now() -> datetime:
    """Friday 2027-09-03, 06:45 in the shop, as an aware moment in UTC."""
    return MOMENT


@pytest.fixture
def demo_now() -> datetime:
    return MOMENT


@pytest.fixture
def shop(db: None) -> Shop:
    return ShopFactory()


@pytest.fixture
def owner(shop: Shop) -> Person:
    return PersonFactory(name="Olive", role=words.Role.OWNER)


@pytest.fixture
def helper(shop: Shop) -> Person:
    return PersonFactory(name="Hal", role=words.Role.HELPER)


@pytest.fixture
def viewer(shop: Shop) -> Person:
    return PersonFactory(name="Vera", role=words.Role.VIEWER)
