"""The small cast of the tests: a shop, its three people and one moment."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import Any

import pytest
from django.apps import apps
from django.conf import settings as django_settings
from django.core.management.color import no_style
from django.db import connection, transaction
from django.db.models import Model
from pytest_django import DjangoDbBlocker

from fabshop import words
from fabshop.actions.plan import accept_plan, ask_teardown
from fabshop.actions.schedule import ask_plan
from fabshop.console.demo import load_demo
from fabshop.records.build import Build
from fabshop.records.plan import Plan, PlanStep
from fabshop.records.schedule import ShopPlan
from fabshop.records.shop import Person, Shop
from tests.factories import MOMENT, PersonFactory, ShopFactory


def pytest_configure() -> None:
    # The real hasher is slow on purpose, and every person of the cast has a password.
    django_settings.PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]


@pytest.fixture
def now() -> datetime:
    """Friday 2027-09-03, 06:45 in the shop, as an aware moment in UTC."""
    return MOMENT


@pytest.fixture
def demo_now() -> datetime:
    return MOMENT


@pytest.fixture
def shop(db: None) -> Shop:
    return ShopFactory()


@pytest.fixture
def owner(shop: Shop) -> Person:
    return PersonFactory(name="Olive", role=words.Role.OWNER)


@pytest.fixture
def helper(shop: Shop) -> Person:
    return PersonFactory(name="Hal", role=words.Role.HELPER)


@pytest.fixture
def viewer(shop: Shop) -> Person:
    return PersonFactory(name="Vera", role=words.Role.VIEWER)


@pytest.fixture(scope="session")
def demo_rows(
    django_db_setup: None, django_db_blocker: DjangoDbBlocker
) -> dict[type[Model], list[Any]]:
    """Every row of the demo shop as of 2027-09-03, loaded once and rolled back."""
    models = apps.get_app_config("records").get_models()
    with django_db_blocker.unblock(), transaction.atomic():
        load_demo(now=MOMENT)
        rows = {model: list(model._default_manager.all()) for model in models}
        transaction.set_rollback(True)
    return rows


@pytest.fixture
def demo(db: None, demo_rows: dict[type[Model], list[Any]]) -> Shop:
    """The demo shop as of 2027-09-03: `Component.objects.get(code="T13")` and so on.

    Its rows are copied in as they were loaded, which takes a fraction of loading.
    """
    _copy_in(demo_rows)
    return Shop.objects.get()


@pytest.fixture(scope="session")
def demo_plan_rows(
    demo_rows: dict[type[Model], list[Any]], django_db_blocker: DjangoDbBlocker
) -> dict[type[Model], list[Any]]:
    """The teardown of Tuppence, reckoned and accepted once and rolled back."""
    with django_db_blocker.unblock(), transaction.atomic():
        _copy_in(demo_rows)
        owner = Person.objects.get(role=words.Role.OWNER)
        build = Build.objects.get(slug="tuppence")
        asked = ask_teardown(by=owner, build=build, now=MOMENT)
        accept_plan(by=owner, plan=asked, now=MOMENT)
        models: list[type[Model]] = [Plan, PlanStep]
        rows = {model: list(model._default_manager.all()) for model in models}
        transaction.set_rollback(True)
    return rows


@pytest.fixture
def demo_plan(demo: Shop, demo_plan_rows: dict[type[Model], list[Any]]) -> Plan:
    """Edition A of the last teardown of Tuppence, in the demo shop."""
    _copy_in(demo_plan_rows)
    return Plan.objects.select_related("build").get()


@pytest.fixture(scope="session")
def demo_shop_plan_rows(
    demo_rows: dict[type[Model], list[Any]], django_db_blocker: DjangoDbBlocker
) -> dict[type[Model], list[Any]]:
    """The plan of the demo shop, reckoned once and rolled back."""
    with django_db_blocker.unblock(), transaction.atomic():
        _copy_in(demo_rows)
        ask_plan(by=Person.objects.get(role=words.Role.OWNER), now=MOMENT)
        models: list[type[Model]] = [ShopPlan]
        rows = {model: list(model._default_manager.all()) for model in models}
        transaction.set_rollback(True)
    return rows


@pytest.fixture
def demo_shop_plan(
    demo: Shop, demo_shop_plan_rows: dict[type[Model], list[Any]]
) -> ShopPlan:
    """Edition A of the plan of the demo shop, as of 2027-09-03."""
    _copy_in(demo_shop_plan_rows)
    return ShopPlan.objects.get()


@pytest.fixture
def odile(demo: Shop) -> Person:
    """The owner of the demo shop."""
    return Person.objects.get(role=words.Role.OWNER)


@pytest.fixture
def teodor(demo: Shop) -> Person:
    """The helper of the demo shop."""
    return Person.objects.get(role=words.Role.HELPER)


def _copy_in(rows_of: dict[type[Model], list[Any]]) -> None:
    with transaction.atomic():
        for model, rows in rows_of.items():
            model._default_manager.bulk_create(_fresh(rows))
    with connection.cursor() as cursor:
        # PostgreSQL has not seen these numbers taken and would give them again.
        for sql in connection.ops.sequence_reset_sql(no_style(), list(rows_of)):
            cursor.execute(sql)


def _fresh(rows: list[Any]) -> Iterator[Any]:
    for row in rows:
        values = {
            field.attname: getattr(row, field.attname) for field in row._meta.fields
        }
        yield type(row)(**values)
