"""How a shop begins and is set: its zone, its first owner, its machines."""

from __future__ import annotations

from datetime import datetime
from typing import Any
from zoneinfo import available_timezones

from django.db import connection, transaction

from fabshop import words
from fabshop.actions.log.entry import write_entry
from fabshop.actions.shop.allowed import require, the_shop
from fabshop.actions.typed import code as typed_code
from fabshop.actions.typed import number, some_line
from fabshop.errors import BadInput, Clash, NotFound
from fabshop.records.shop import Machine, Person, Shop

# What a person may set of the shop: the most it may be, and what it is called.
_NUMBERS = {
    "delivery_minute": (24 * 60, "Deliveries count from"),
    "teardown_setup_minutes": (480, "Clearing the bench"),
    "factor_bites_after": (1000, "Finished tasks before a factor is used"),
}


@transaction.atomic
def make_shop(*, name: str, zone: str, now: datetime, is_demo: bool = False) -> Shop:
    """Make the one shop of this database."""
    shop = the_shop()
    if shop is not None:
        raise Clash(f"There is a shop here already: {shop.name}.")
    return Shop.objects.create(
        pk=1, name=_name(name), zone=_zone(zone), is_demo=is_demo, made_at=now
    )


def refuse_unprepared() -> None:
    """Refuse where the database has no tables yet: nobody has started the shop."""
    if Shop._meta.db_table not in connection.introspection.table_names():
        raise NotFound(
            "Nothing is set up here yet. Start the shop once: python3 manage.py serve "
            "(with --demo for the demo shop)."
        )


@transaction.atomic
def make_owner(*, name: str, now: datetime) -> Person:
    """Make the first owner; later people are added by an owner."""
    owner = Person.objects.filter(role=words.Role.OWNER, is_active=True).first()
    if owner is not None:
        raise Clash(f"The shop has an owner already: {owner.name}.")
    name = some_line(name, field="name", label="Name", most=60)
    if Person.objects.filter(name__iexact=name).exists():
        raise Clash(f"There is a {name} here already.", field="name")
    person = Person(name=name, role=words.Role.OWNER)
    person.set_unusable_password()
    person.save()
    return person


@transaction.atomic
def change_shop(*, by: Person, now: datetime, **fields: Any) -> Shop:
    """Set what is given of: name, zone, delivery_minute, and the planner's settings."""
    require(by, "own")
    shop = the_shop()
    if shop is None:
        raise NotFound("There is no shop yet: set it up first.")
    changed = []
    for field, value in fields.items():
        kept = _checked(field, value)
        if getattr(shop, field) != kept:
            setattr(shop, field, kept)
            changed.append(field)
    if changed:
        shop.save(update_fields=changed)
        write_entry(
            kind=words.EntryKind.CHANGED,
            by=by,
            now=now,
            text="Shop: "
            + ", ".join(f"{f.replace('_', ' ')} {getattr(shop, f)}" for f in changed)
            + ".",
        )
    return shop


@transaction.atomic
def add_machine(*, by: Person, code: str, name: str, now: datetime) -> Machine:
    """Add something that runs unattended, like a printer or a mill."""
    require(by, "own")
    code = typed_code(code)
    if Machine.objects.filter(code__iexact=code).exists():
        raise Clash(f"There is a machine {code} already.", field="code")
    machine = Machine.objects.create(
        code=code, name=some_line(name, field="name", label="Name", most=80)
    )
    write_entry(
        kind=words.EntryKind.CHANGED, by=by, now=now, text=f"Machine {machine.name}."
    )
    return machine


def _checked(field: str, value: Any) -> Any:
    if field == "name":
        return _name(value)
    if field == "zone":
        return _zone(value)
    if field not in _NUMBERS:
        raise BadInput(f"The shop has no “{field}”.", field=field)
    most, label = _NUMBERS[field]
    return number(value, field=field, label=label, most=most)


def _name(name: str) -> str:
    return some_line(name, field="name", label="Name of the shop", most=80)


def _zone(zone: str) -> str:
    if zone not in available_timezones():
        raise BadInput(
            f"Zone: “{zone[:60]}” is not known. Write it like Europe/London.",
            field="zone",
        )
    return zone
