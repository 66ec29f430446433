"""The clock of the pages stands at the shop's moment, and somebody is signed in."""

from collections.abc import Iterator
from typing import Any

import pytest
from django.test import Client
from freezegun import freeze_time

from fabshop.records.shop import Person
from tests.factories import MOMENT


@pytest.fixture
def frozen() -> Iterator[Any]:
    """Friday 2027-09-03, 06:45 in the shop; `frozen.tick(seconds)` lets it pass."""
    with freeze_time(MOMENT) as clock:
        yield clock


@pytest.fixture
def page(client: Client, owner: Person, frozen: Any) -> Client:
    """A phone on which the owner is signed in, at the shop's moment."""
    client.force_login(owner)
    return client


@pytest.fixture
def helpers_page(helper: Person, frozen: Any) -> Client:
    client = Client()
    client.force_login(helper)
    return client


@pytest.fixture
def viewers_page(viewer: Person, frozen: Any) -> Client:
    client = Client()
    client.force_login(viewer)
    return client


@pytest.fixture
def plan_page(
    client: Client, odile: Person, demo_shop_plan: Any, frozen: Any
) -> Client:
    """The demo shop with its plan, and its owner signed in."""
    client.force_login(odile)
    return client


@pytest.fixture
def bare_page(client: Client, odile: Person, frozen: Any) -> Client:
    """The demo shop before any plan is made, and its owner signed in."""
    client.force_login(odile)
    return client
