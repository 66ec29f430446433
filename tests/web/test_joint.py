"""Joints of a build, the set before the arc, and one joint's slip."""

from __future__ import annotations

from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from freezegun import freeze_time

from fabshop.records.shop import Person
from tests.factories import MOMENT, JointFactory, TaskFactory


@pytest.fixture
def demo_page(client: Client, odile: Person) -> Any:
    with freeze_time(MOMENT):
        client.force_login(odile)
        yield client


def test_a_twin_to_inspect_leads_the_list(demo_page: Client) -> None:
    answer = demo_page.get("/builds/tuppence/joints/")
    assert "Look at J08 again: twin J07 failed, toe crack 3 mm." in answer.text
    assert "12 accepted" in answer.text
    assert "inspect: twin J07 failed" in answer.text
    # Twins stand side by side.
    pair = answer.text[answer.text.index('class="two"') :]
    assert pair.index("J07") < pair.index("J08") < pair.index("</div>")


def test_the_gas_of_the_whole_set_stands_first(demo_page: Client) -> None:
    answer = demo_page.get("/tasks/W43/joints/")
    lead = answer.text[answer.text.index('class="lead"') :]
    assert lead.startswith(
        'class="lead">18 bar, this set needs 18: no reserve, book the swap.'
    )
    assert "Argon sinks and fills low" in answer.text
    coping = demo_page.get("/tasks/W41/joints/")
    assert "6 joints to cope, welded later." in coping.text


def test_a_slip_says_what_is_open_and_asks_by_name(demo_page: Client) -> None:
    answer = demo_page.get("/joints/J17/")
    assert "18 bar, this set needs 18" in answer.text
    assert "78.4°, dial 11.6°" in answer.text
    assert "7K214 onto 7K214" in answer.text
    assert 'name="state" value="coped"' in answer.text
    assert "Brushed with the stainless brush that touches stainless only" in answer.text
    assert 'href="/paper/cope/joint/J17/"' in answer.text


def test_a_stranger_signs_in_first(client: Client, db: None) -> None:
    assert client.get("/joints/J17/").status_code == 302


def test_a_viewer_reads_and_has_no_keys(viewers_page: Client) -> None:
    JointFactory(code="J17")
    answer = viewers_page.get("/joints/J17/")
    assert answer.status_code == 200
    assert "<form" not in answer.text.split("<main")[1].split("</main>")[0]


def test_an_unknown_lot_reads_unknown(page: Client) -> None:
    JointFactory(code="J15", cut_heat_lot="", metal="chromoly", material="4130")
    assert "UNKNOWN onto 7K214" in page.get("/joints/J15/").text
    assert page.get("/joints/J99/").status_code == 404


def test_more_joints_ask_no_more_often(
    page: Client, django_assert_num_queries: Any
) -> None:
    task = TaskFactory(code="W43")
    build = JointFactory(task=task).build
    for address in (f"/builds/{build.slug}/joints/", "/tasks/W43/joints/"):
        page.get(address)
        with CaptureQueriesContext(connection) as few:
            page.get(address)
        for _ in range(6):
            JointFactory(build=build, task=task)
        with django_assert_num_queries(len(few)):
            page.get(address)
