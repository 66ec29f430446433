"""What a task needs and where on the build it happens, one thing a screen."""

import pytest

from fabshop import words
from tests.factories import (
    BuildFactory,
    ComponentFactory,
    NeedFactory,
    OrderFactory,
    OrderLineFactory,
    TaskFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def task(shop):
    return TaskFactory(code="W20", build=BuildFactory(slug="tuppence"))


@pytest.fixture
def pod(shop):
    order = OrderFactory(code="P05")
    return OrderLineFactory(order=order, title="Drive pod", quantity_milli=2000)


def test_needs_are_order_lines_rack_and_tools(client, owner, task, pod):
    client.force_login(owner)
    answer = client.post(
        "/tasks/W20/needs/?new=1",
        {
            "r-0-kind": "order",
            "r-0-what": "P05/1",
            "r-0-quantity": "1",
            "r-1-kind": "rack",
            "r-1-what": "C04",
        },
    )
    assert answer.url == "/tasks/W20/sites/?new=1"
    needs = list(task.needs.all())
    assert needs[0].line == pod and needs[0].quantity_milli == 1000
    assert needs[1].rack_code == "C04"


def test_an_order_line_nobody_knows_is_named(client, owner, task):
    client.force_login(owner)
    answer = client.post(
        "/tasks/W20/needs/", {"r-0-kind": "order", "r-0-what": "P99/1"}
    )
    assert answer.status_code == 422
    assert "“P99/1” is no order line" in answer.text
    assert 'value="P99/1"' in answer.text
    assert not task.needs.exists()


def test_a_need_of_part_of_a_piece_is_refused(client, owner, task, pod):
    client.force_login(owner)
    answer = client.post(
        "/tasks/W20/needs/",
        {"r-0-kind": "order", "r-0-what": "P05/1", "r-0-quantity": "0.5"},
    )
    assert answer.status_code == 422


def test_more_lines_keep_what_is_typed(client, owner, task):
    client.force_login(owner)
    answer = client.post(
        "/tasks/W20/needs/", {"r-0-kind": "tool", "r-0-what": "torque", "more": "1"}
    )
    assert answer.status_code == 200
    assert 'value="torque"' in answer.text and 'name="r-2-what"' in answer.text


def test_places_are_ticked_or_written_by_kind(client, owner, task):
    for code in ("T18", "T02", "T20"):
        ComponentFactory(build=task.build, code=code)
    client.force_login(owner)
    client.post("/tasks/W20/sites/", {"fits": "T18", "keeps-open-codes": "T02 T20"})
    found = sorted(task.sites.values_list("kind", "component__code"))
    assert found == [("fits", "T18"), ("keeps-open", "T02"), ("keeps-open", "T20")]
    text = client.get("/tasks/W20/sites/").text
    assert "Fits: T18" in text


def test_a_place_on_another_build_is_refused_and_kept(client, owner, task):
    ComponentFactory(code="G01")
    client.force_login(owner)
    answer = client.post("/tasks/W20/sites/", {"fits-codes": "G01"})
    assert answer.status_code == 422
    assert "G01" in answer.text and "is on another build" in answer.text
    assert 'value="G01"' in answer.text


def test_what_stands_is_shown_to_be_changed(client, owner, task, pod):
    NeedFactory(task=task, line=pod, kind=words.NeedKind.ORDER, quantity_milli=1000)
    client.force_login(owner)
    text = client.get("/tasks/W20/needs/").text
    assert 'value="P05/1"' in text and 'name="r-0-quantity" value="1"' in text
