"""Programs that act as the shop's people, at the shop's moment."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from freezegun import freeze_time
from rest_framework.test import APIClient

from fabshop.records.shop import Person
from tests.factories import MOMENT


@pytest.fixture
def api(owner: Person) -> Iterator[APIClient]:
    """The owner's program; the clock stands at Friday 2027-09-03 06:45."""
    with freeze_time(MOMENT):
        yield acting_as(owner)


@pytest.fixture
def helpers_api(helper: Person) -> Iterator[APIClient]:
    with freeze_time(MOMENT):
        yield acting_as(helper)


@pytest.fixture
def demo_api(odile: Person) -> Iterator[APIClient]:
    with freeze_time(MOMENT):
        yield acting_as(odile)


def acting_as(person: Person) -> APIClient:
    client = APIClient()
    client.force_authenticate(person)
    return client
