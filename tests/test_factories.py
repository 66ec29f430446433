"""Every record has a factory, and the database accepts what it makes."""

from __future__ import annotations

import pytest
from django.apps import apps
from factory.django import DjangoModelFactory

from tests import factories

MADE = [
    thing
    for thing in vars(factories).values()
    if isinstance(thing, type)
    and issubclass(thing, DjangoModelFactory)
    and thing is not DjangoModelFactory
]


def test_every_record_has_a_factory() -> None:
    made = {factory._meta.model for factory in MADE}
    assert made == set(apps.get_app_config("records").get_models())


@pytest.mark.django_db
@pytest.mark.parametrize("factory", MADE, ids=lambda factory: factory.__name__)
def test_a_factory_makes_what_the_database_accepts(
    factory: type[DjangoModelFactory],
) -> None:
    made = factory()
    made.full_clean(exclude=["password"])
    assert type(made).objects.filter(pk=made.pk).exists()
