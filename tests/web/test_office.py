"""The back office shows every record to the owner and changes none."""

from __future__ import annotations

import pytest
from django.apps import apps
from django.db.models import Model
from django.test import Client
from django.urls import reverse
from pytest_django import DjangoAssertNumQueries

from fabshop.records.build import Component
from fabshop.records.shop import Person, Shop, SignInLink
from tests.factories import ComponentFactory, SignInLinkFactory
from tests.test_factories import MADE

MODELS = list(apps.get_app_config("records").get_models())


def address(model: type[Model], page: str, *args: object) -> str:
    return reverse(f"admin:records_{model._meta.model_name}_{page}", args=args)


@pytest.fixture
def at_desk(client: Client, owner: Person) -> Client:
    client.force_login(owner)
    return client


def test_it_lists_every_kind_of_record(at_desk: Client) -> None:
    page = at_desk.get("/office/")
    assert page.status_code == 200
    for model in MODELS:
        assert address(model, "changelist") in page.text


@pytest.mark.parametrize("factory", MADE, ids=lambda factory: factory.__name__)
def test_every_record_is_listed_searched_and_read(at_desk: Client, factory) -> None:
    record = factory()
    listed = address(type(record), "changelist")
    assert at_desk.get(listed).status_code == 200
    if at_desk.get(listed).context["cl"].search_fields:
        assert at_desk.get(listed, {"q": "a"}).status_code == 200
    page = at_desk.get(address(type(record), "change", record.pk))
    assert page.status_code == 200
    # Text, not fields, and no button that saves.
    assert 'name="_save"' not in page.text
    assert 'class="readonly"' in page.text


@pytest.mark.parametrize("model", MODELS, ids=lambda model: model.__name__)
def test_nothing_is_added_changed_or_deleted(at_desk: Client, model) -> None:
    assert at_desk.get(address(model, "add")).status_code == 403
    assert at_desk.post(address(model, "add"), {}).status_code == 403


def test_a_record_is_not_changed_or_deleted_by_a_post(at_desk: Client) -> None:
    part = ComponentFactory(name="Lid")
    posted = at_desk.post(address(Component, "change", part.pk), {"name": "Other"})
    assert posted.status_code == 403
    gone = at_desk.post(address(Component, "delete", part.pk), {"post": "yes"})
    assert gone.status_code == 403
    at_desk.post(
        address(Component, "changelist"),
        {"action": "delete_selected", "_selected_action": part.pk, "post": "yes"},
    )
    part.refresh_from_db()
    assert part.name == "Lid"


def test_hashes_are_not_shown(at_desk: Client, owner: Person) -> None:
    link = SignInLinkFactory()
    assert (
        link.token_hash not in at_desk.get(address(SignInLink, "change", link.pk)).text
    )
    page = at_desk.get(address(Person, "change", owner.pk))
    assert owner.password not in page.text
    assert "md5" not in page.text


def test_a_stranger_is_sent_to_sign_in_and_back(client: Client, shop: Shop) -> None:
    page = client.get("/office/", follow=True)
    assert page.redirect_chain[-1][0] == "/sign-in/?next=%2Foffice%2F"


@pytest.mark.parametrize("who", ["helper", "viewer"])
def test_it_is_the_owners_alone(
    client: Client, who: str, request: pytest.FixtureRequest
) -> None:
    client.force_login(request.getfixturevalue(who))
    page = client.get("/office/", follow=True)
    assert page.status_code == 403


def test_passwords_are_changed_and_people_signed_out_in_the_shop(
    at_desk: Client,
) -> None:
    assert at_desk.get("/office/password_change/").headers["Location"] == reverse(
        "password"
    )
    out = at_desk.post("/office/logout/")
    assert out.headers["Location"] == reverse("sign-in")
    assert at_desk.get("/office/").status_code == 302


def test_a_long_table_costs_no_more_queries_than_a_short_one(
    at_desk: Client, django_assert_max_num_queries: DjangoAssertNumQueries
) -> None:
    ComponentFactory.create_batch(30)
    with django_assert_max_num_queries(8):
        at_desk.get(address(Component, "changelist"))
