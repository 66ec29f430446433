"""Finds the person whom a command names."""

from __future__ import annotations

from django.core.management.base import CommandError

from fabshop.records.shop import Person


def person_named(name: str) -> Person:
    """The active person of that name, or a sentence with the names there are."""
    person = Person.objects.filter(name__iexact=name, is_active=True).first()
    if person is None:
        names = Person.objects.filter(is_active=True).values_list("name", flat=True)
        there = ", ".join(names) or "nobody yet"
        raise CommandError(f"Nobody here is called {name!r}. There is: {there}.")
    return person
