"""How somebody gets in: links that sign in once, and tokens for programs."""

from __future__ import annotations

import secrets
from datetime import datetime, timedelta
from hashlib import sha256

from django.db import transaction
from rest_framework.authtoken.models import Token

from fabshop.errors import BadInput, Clash, NotFound
from fabshop.records.shop import Person, SignInLink

MOST_HOURS = 24 * 31


@transaction.atomic
def make_sign_in_link(*, person: Person, now: datetime, hours: int = 24) -> str:
    """Return the secret part of a link that signs `person` in once.

    Only its hash is kept, so a copy of the database opens no door.
    """
    _must_be_here(person)
    if not 1 <= hours <= MOST_HOURS:
        raise BadInput(
            f"Hours: {hours} will not do; a link lasts 1 to {MOST_HOURS} hours.",
            field="hours",
        )
    token = secrets.token_urlsafe(24)
    SignInLink.objects.create(
        person=person,
        token_hash=_hash(token),
        made_at=now,
        expires_at=now + timedelta(hours=hours),
    )
    return token


@transaction.atomic
def use_sign_in_link(*, token: str, now: datetime) -> Person:
    """Use a link up and return whom it signs in."""
    link = (
        SignInLink.objects.select_related("person")
        .filter(token_hash=_hash(token))
        .first()
    )
    if link is None or not link.person.is_active:
        raise NotFound("This sign-in link is not known here. Ask for a new one.")
    if link.expires_at <= now:
        raise NotFound("This sign-in link is too old. Ask for a new one.")
    # The filter is the guard: of two that use it at once only one finds it unused.
    if not SignInLink.objects.filter(pk=link.pk, used_at=None).update(used_at=now):
        raise NotFound(
            "This sign-in link has been used already, and it opens only once. "
            "Ask for a new one."
        )
    return link.person


@transaction.atomic
def make_api_token(*, person: Person) -> str:
    """Return the token by which a program signs in as `person`; it stays the same."""
    _must_be_here(person)
    token, _ = Token.objects.get_or_create(user=person)
    return str(token.key)


def _must_be_here(person: Person) -> None:
    if not person.is_active:
        raise Clash(f"{person.name} no longer signs in here.")


def _hash(token: str) -> str:
    return sha256(token.encode("utf-8", "surrogatepass")).hexdigest()
