"""Who may do what in the shop, and whether there is a shop at all."""

from __future__ import annotations

from typing import Literal

from fabshop.errors import NotAllowed
from fabshop.records.shop import Person, Shop


def require(person: Person, what: Literal["write", "own"]) -> None:
    """Refuse who may not: a viewer reads, and some things are the owner's alone."""
    if what == "own" and not (person.is_owner and person.is_active):
        raise NotAllowed("Only the owner does that.")
    if not (person.may_write and person.is_active):
        raise NotAllowed("You may look, but not write here.")


def the_shop() -> Shop | None:
    """The shop, or None before it has been set up."""
    return Shop.objects.first()
