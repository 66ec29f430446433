"""The cast of the action tests, and a moment for them to act in."""

from datetime import UTC, datetime

import pytest

from fabshop import words
from fabshop.records.shop import Person, Shop

NOW = datetime(2027, 9, 3, 6, 45, tzinfo=UTC)


@pytest.fixture
def now() -> datetime:
    return NOW


@pytest.fixture
def owner(db: None) -> Person:
    Shop.objects.get_or_create(pk=1, defaults={"name": "Bakery", "made_at": NOW})
    return Person.objects.create(name="Odile", role=words.Role.OWNER)


@pytest.fixture
def helper(db: None) -> Person:
    return Person.objects.create(name="Teodor", role=words.Role.HELPER)


@pytest.fixture
def viewer(db: None) -> Person:
    return Person.objects.create(name="Vera", role=words.Role.VIEWER)
