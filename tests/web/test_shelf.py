"""Shelf life and hardware: what the pages say first, and what they never hide."""

from __future__ import annotations

from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from pytest_django import DjangoAssertNumQueries

from fabshop.errors import NotFound
from fabshop.records.plan import Plan
from fabshop.records.shop import Person, Shop
from fabshop.web.shelf import found_thing
from tests.factories import (
    ConsumableFactory,
    NeedFactory,
    ShelfMoveFactory,
    TaskFactory,
    TrayFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def demo_page(client: Client, odile: Person, frozen: Any) -> Client:
    client.force_login(odile)
    return client


def test_it_opens_with_what_to_order_today(demo_page: Client) -> None:
    """Check value 10, on the page."""
    text = demo_page.get("/shelf/").text
    assert text.index("Order today") < text.index("<h2>")
    assert "555 g wanted, 410 g left: short 145 g" in text
    assert "who brings it and how long that takes is unknown" in text
    assert "gone off Tue 31 Aug, W17 wants it" in text


def test_dates_that_nobody_knows_are_listed_as_unknown(demo_page: Client) -> None:
    """Row 45."""
    text = demo_page.get("/shelf/").text
    part = text[text.index("Nobody knows until when it is good") :]
    assert part.index("C03") < part.index("<h2>")
    assert "use-by day unknown" in part


def test_a_consumable_says_who_wants_it_and_when(demo_page: Client) -> None:
    text = demo_page.get("/shelf/C01/").text
    assert "410 g left: short 145 g." in text
    assert "must begin by" in text
    assert "lasting skin allergy" in text


def test_a_tray_shows_the_order_that_fills_it(demo_page: Client) -> None:
    text = demo_page.get("/shelf/F01/").text
    assert "118 left" in text
    assert "P13/1" in text


def test_a_count_below_nothing_says_look(page: Client) -> None:
    """Row 46."""
    tray = TrayFactory(code="F04")
    ShelfMoveFactory(consumable=None, tray=tray, kind="used", change_milli=-2_000)
    assert "Count wrong by 2: look" in page.get("/shelf/F04/").text
    assert "count wrong by 2, look" in page.get("/hardware/").text


def test_hardware_of_the_teardown_before_and_after_it_is_planned(
    demo_page: Client, demo: Shop
) -> None:
    """Check value 4: 67 screws, 28 with locker, 33 dry, 6 new nuts."""
    text = demo_page.get("/hardware/").text
    assert "the teardown disturbs 67 screws" in text
    assert "48 M3, 15 M4, 4 M2.5" in text
    assert "33 dry, 28 medium thread-locker, 6 new nylon nut" in text
    assert "no plan is accepted yet" in text


def test_hardware_by_the_accepted_plan(demo_page: Client, demo_plan: Plan) -> None:
    assert "disturbs 67 screws" in demo_page.get("/hardware/").text
    plan = demo_page.get(f"/plans/{demo_plan.pk}/").text
    assert "Hardware: 67 screws" in plan
    assert "6 new M4 nut" in plan


def test_a_task_warns_before_it_can_be_started(demo_page: Client) -> None:
    """Row 44: warned when planned."""
    text = demo_page.get("/tasks/W17/").text
    warned = text.index("gone off since Tue 31 Aug. It is held when used.")
    assert warned < text.index("Start all the same")
    assert 'value="210"' in demo_page.get("/tasks/W54/").text


def test_nothing_of_that_name_is_said(page: Client) -> None:
    assert page.get("/shelf/C99/").status_code == 404
    with pytest.raises(NotFound, match="Nothing on the shelf is called C99"):
        found_thing("C99")


def test_a_stranger_signs_in_first(client: Client, shop: Shop) -> None:
    assert client.get("/shelf/").status_code == 302


@pytest.mark.parametrize("path", ["/shelf/", "/hardware/", "/shelf/C00/"])
def test_as_many_queries_for_twenty_as_for_one(
    page: Client, path: str, django_assert_num_queries: DjangoAssertNumQueries
) -> None:
    first = ConsumableFactory(code="C00")
    NeedFactory(task=TaskFactory(), kind="rack", line=None, rack_code="C00")
    ShelfMoveFactory(consumable=first)
    TrayFactory()
    with CaptureQueriesContext(connection) as once:
        page.get(path)
    for _ in range(19):
        NeedFactory(task=TaskFactory(), kind="rack", line=None, rack_code="C00")
        ShelfMoveFactory(consumable=first)
        ShelfMoveFactory(consumable=ConsumableFactory())
        TrayFactory()
    with django_assert_num_queries(len(once)):
        page.get(path)
