"""What may never be true of the shop, its people and its hours."""

from __future__ import annotations

from typing import Any

import pytest

from fabshop.records.shop import Person
from tests.factories import (
    DayFactory,
    PersonFactory,
    ShopFactory,
    WindowFactory,
)
from tests.records.refused import refused

pytestmark = pytest.mark.django_db


def test_there_is_one_shop() -> None:
    ShopFactory()
    with refused("shop_is_only_one"):
        ShopFactory(id=2)


def test_deliveries_end_within_the_day() -> None:
    with refused("shop_delivery_minute_within_a_day"):
        ShopFactory(delivery_minute=1441)


def test_a_person_has_a_role_of_the_three() -> None:
    with refused("person_role_known"):
        PersonFactory(role="king")


def test_a_name_is_taken_whatever_its_capitals() -> None:
    PersonFactory(name="Hal")
    with refused():
        PersonFactory(name="HAL")


def test_people_are_found_whatever_capitals_they_type() -> None:
    hal = PersonFactory(name="Hal")
    assert Person.objects.get_by_natural_key("hAL") == hal


@pytest.mark.parametrize(
    ("role", "owns", "writes"),
    [("owner", True, True), ("helper", False, True), ("viewer", False, False)],
)
def test_what_a_role_may(role: str, owns: bool, writes: bool) -> None:
    person = PersonFactory.build(role=role)
    assert (person.is_owner, person.may_write, person.is_staff) == (owns, writes, owns)
    assert person.has_perm("records.view_task") is owns


@pytest.mark.parametrize(
    "fields",
    [
        {"from_minute": 1080, "to_minute": 1080},
        {"from_minute": 1200, "to_minute": 1080},
        {"from_minute": 1080, "to_minute": 1441},
    ],
)
def test_hours_end_after_they_begin_on_the_same_day(fields: dict[str, Any]) -> None:
    with refused("window_ends_after_it_begins"):
        WindowFactory(**fields)


def test_a_person_begins_once_at_a_minute() -> None:
    window = WindowFactory()
    with refused():
        WindowFactory(
            person=window.person, on=window.on, from_minute=window.from_minute
        )


def test_quiet_ends_within_the_day() -> None:
    with refused("day_quiet_until_within_the_day"):
        DayFactory(quiet_until_minute=1441)
