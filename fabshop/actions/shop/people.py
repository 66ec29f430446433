"""The people of the shop: who is here, as what, and who no longer is."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction
from rest_framework.authtoken.models import Token

from fabshop import words
from fabshop.actions.log.entry import write_entry
from fabshop.actions.shop.allowed import require
from fabshop.actions.typed import some_line
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.shop import Person

FEWEST_CHARACTERS = 8
MOST_CHARACTERS = 200


@transaction.atomic
def add_person(
    *,
    by: Person,
    name: str,
    role: words.Role | str,
    password: str | None = None,
    now: datetime,
) -> Person:
    """Let somebody in; without a password they sign in by a link."""
    require(by, "own")
    name = some_line(name, field="name", label="Name", most=60)
    known = Person.objects.filter(name__iexact=name).first()
    if known is not None:
        raise Clash(
            f"There is a {known.name} here already."
            if known.is_active
            else f"{known.name} was here before: bring them back instead.",
            field="name",
        )
    person = Person(name=name, role=_role(role))
    if password:
        person.set_password(_password(password))
    else:
        person.set_unusable_password()
    person.save()
    _jot(by, now, f"{person.name} may sign in as {words.Role(person.role).label}.")
    return person


@transaction.atomic
def set_password(*, by: Person, person: Person, password: str, now: datetime) -> None:
    """Set one's own password, or, for the owner, anybody's."""
    if by != person:
        require(by, "own")
    if not person.is_active:
        raise Clash(f"{person.name} no longer signs in here.")
    person.set_password(_password(password))
    person.save(update_fields=["password"])
    _jot(by, now, f"New password for {person.name}.")


@transaction.atomic
def retire_person(*, by: Person, person: Person, now: datetime) -> Person:
    """Let somebody in no longer; what they logged stays under their name."""
    require(by, "own")
    person = Person.objects.select_for_update().get(pk=person.pk)
    if not person.is_active:
        return person
    owners = Person.objects.filter(role=words.Role.OWNER, is_active=True)
    if person.is_owner and not owners.exclude(pk=person.pk).exists():
        raise NotAllowed(f"{person.name} is the only owner and has to stay.")
    person.is_active = False
    person.save(update_fields=["is_active"])
    person.links.filter(used_at=None).delete()
    Token.objects.filter(user=person).delete()
    _jot(by, now, f"{person.name} no longer signs in.")
    return person


@transaction.atomic
def bring_back_person(*, by: Person, person: Person, now: datetime) -> Person:
    """Let somebody in again who was here before."""
    require(by, "own")
    if not person.is_active:
        person.is_active = True
        person.save(update_fields=["is_active"])
        _jot(by, now, f"{person.name} is back.")
    return person


def _role(role: words.Role | str) -> words.Role:
    try:
        return words.Role(role)
    except ValueError:
        raise BadInput(
            f"Role: “{str(role)[:20]}” is none of owner, helper, viewer.", field="role"
        ) from None


def _password(password: str) -> str:
    if not FEWEST_CHARACTERS <= len(password) <= MOST_CHARACTERS:
        raise BadInput(
            f"Password: {len(password)} characters; it needs at least "
            f"{FEWEST_CHARACTERS} and at most {MOST_CHARACTERS}.",
            field="password",
        )
    return password


def _jot(by: Person, now: datetime, text: str) -> None:
    write_entry(kind=words.EntryKind.CHANGED, by=by, now=now, text=text)
