"""The clock of the sheets stands at the demo's moment."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from django.test import Client
from freezegun import freeze_time

from fabshop.records.shop import Person
from tests.factories import MOMENT


@pytest.fixture(autouse=True)
def frozen() -> Iterator[None]:
    """Friday 2027-09-03, 06:45 in the shop."""
    with freeze_time(MOMENT):
        yield


@pytest.fixture
def page(client: Client, odile: Person) -> Client:
    """A browser on which the owner of the demo shop is signed in."""
    client.force_login(odile)
    return client
