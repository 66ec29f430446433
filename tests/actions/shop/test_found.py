from datetime import datetime

import pytest

from fabshop import words
from fabshop.actions.shop import (
    add_machine,
    change_shop,
    make_owner,
    make_shop,
    retire_person,
)
from fabshop.errors import BadInput, Clash, NotAllowed, NotFound
from fabshop.records.log import LogEntry
from fabshop.records.shop import Machine, Person, Shop
from tests.factories import PersonFactory

pytestmark = pytest.mark.django_db


def test_a_shop_is_made_once(now: datetime) -> None:
    shop = make_shop(name="The half garage", zone="Europe/London", now=now)
    assert Shop.objects.get() == shop
    assert (shop.zone, shop.is_demo, shop.delivery_minute) == (
        "Europe/London",
        False,
        18 * 60,
    )
    with pytest.raises(Clash, match="a shop here already: The half garage"):
        make_shop(name="Another", zone="UTC", now=now)


@pytest.mark.parametrize("zone", ["", "London", "Europe/../London", "\x00"])
def test_an_unknown_zone_is_refused_by_name(now: datetime, zone: str) -> None:
    with pytest.raises(BadInput, match="Write it like Europe/London") as refused:
        make_shop(name="Shop", zone=zone, now=now)
    assert refused.value.field == "zone"
    assert not Shop.objects.exists()


def test_a_shop_has_a_name(now: datetime) -> None:
    with pytest.raises(BadInput, match="Name of the shop: nothing is written"):
        make_shop(name="  ", zone="UTC", now=now)


def test_the_first_owner_signs_in_by_link_only(now: datetime) -> None:
    owner = make_owner(name=" Odile ", now=now)
    assert (owner.name, owner.role) == ("Odile", words.Role.OWNER)
    assert not owner.has_usable_password()
    with pytest.raises(Clash, match="has an owner already: Odile"):
        make_owner(name="Someone else", now=now)


def test_an_owner_does_not_take_a_name_that_is_taken(now: datetime) -> None:
    PersonFactory(name="odile", role=words.Role.HELPER)
    with pytest.raises(Clash, match="There is a Odile here already") as refused:
        make_owner(name="Odile", now=now)
    assert refused.value.field == "name"


def test_the_owner_changes_the_shop_and_the_log_says_what(
    owner: Person, now: datetime
) -> None:
    shop = change_shop(by=owner, now=now, zone="UTC", teardown_setup_minutes=20)
    shop.refresh_from_db()
    assert (shop.zone, shop.teardown_setup_minutes) == ("UTC", 20)
    entry = LogEntry.objects.get()
    assert entry.text == "Shop: zone UTC, teardown setup minutes 20."


def test_setting_what_is_so_already_leaves_no_line(
    owner: Person, shop: Shop, now: datetime
) -> None:
    change_shop(by=owner, now=now, name=shop.name)
    assert not LogEntry.objects.exists()


@pytest.mark.parametrize(
    ("fields", "field"),
    [
        ({"delivery_minute": 1441}, "delivery_minute"),
        ({"delivery_minute": -1}, "delivery_minute"),
        ({"teardown_setup_minutes": 481}, "teardown_setup_minutes"),
        ({"zone": "Nowhere/At_All"}, "zone"),
        ({"name": ""}, "name"),
        ({"is_demo": True}, "is_demo"),
    ],
)
def test_what_may_not_be_set_is_named(
    owner: Person, now: datetime, fields: dict[str, object], field: str
) -> None:
    with pytest.raises(BadInput) as refused:
        change_shop(by=owner, now=now, **fields)
    assert refused.value.field == field


def test_a_helper_does_not_change_the_shop(helper: Person, now: datetime) -> None:
    with pytest.raises(NotAllowed):
        change_shop(by=helper, now=now, name="Mine")


def test_without_a_shop_there_is_nothing_to_change(now: datetime) -> None:
    with pytest.raises(NotFound, match="no shop yet"):
        change_shop(by=PersonFactory(), now=now, name="Mine")


def test_a_machine_is_added_once(owner: Person, now: datetime) -> None:
    machine = add_machine(by=owner, code="print-A", name="The big printer", now=now)
    assert Machine.objects.get() == machine
    with pytest.raises(Clash, match="There is a machine PRINT-a already"):
        add_machine(by=owner, code="PRINT-a", name="Again", now=now)


def test_a_machine_code_fits_an_address(owner: Person, now: datetime) -> None:
    with pytest.raises(BadInput, match="will not do"):
        add_machine(by=owner, code="print A", name="The big printer", now=now)


def test_an_owner_may_follow_one_who_left(owner: Person, now: datetime) -> None:
    other = PersonFactory(name="Ada", role=words.Role.OWNER)
    retire_person(by=owner, person=other, now=now)
    assert not Person.objects.get(name="Ada").is_active
