"""A command finds whom it names, or says who is there."""

from __future__ import annotations

import pytest
from django.core.management.base import CommandError

from fabshop.console.who import person_named
from fabshop.records.shop import Person


def test_a_name_is_found_however_it_is_written(owner: Person) -> None:
    assert person_named("oLIVE") == owner


def test_a_name_that_is_not_there_gets_those_that_are(
    owner: Person, helper: Person
) -> None:
    with pytest.raises(CommandError) as told:
        person_named("Oliver")
    assert str(told.value) == "Nobody here is called 'Oliver'. There is: Hal, Olive."


def test_who_has_left_is_not_found(db: None, owner: Person) -> None:
    owner.is_active = False
    owner.save()
    with pytest.raises(CommandError, match="There is: nobody yet"):
        person_named("Olive")
