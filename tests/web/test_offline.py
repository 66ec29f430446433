"""What a phone takes in beforehand: the day, the accepted teardown, its own worker."""

from __future__ import annotations

import re

import pytest
from django.test import Client

from fabshop.records.plan import Plan
from fabshop.records.shop import Person

pytestmark = pytest.mark.django_db


def test_the_worker_is_a_script_for_the_whole_shop_and_is_asked_for_anew(
    client: Client,
) -> None:
    answer = client.get("/worker.js")
    assert answer.headers["Content-Type"] == "application/javascript"
    assert "no-store" in answer.headers["Cache-Control"]
    release = re.search(r'RELEASE = "(\w{12})"', answer.text)
    assert release
    assert '"/static/web/outbox.js"' in answer.text
    assert release[0] in client.get("/worker.js").text


def test_the_day_and_every_step_of_the_accepted_teardown_are_taken_in(
    client: Client, odile: Person, demo_plan: Plan
) -> None:
    client.force_login(odile)
    pages = client.get("/offline/").json()["pages"]
    assert {"/", "/log/", "/goods-in/", "/kept/", "/builds/tuppence/"} <= set(pages)
    assert f"/plans/{demo_plan.pk}/" in pages
    steps = [path for path in pages if "/steps/" in path]
    assert len(steps) == demo_plan.steps.count()
    assert len(pages) == len(set(pages))
    for path in pages:
        assert client.get(path).status_code == 200, path


def test_a_stranger_takes_nothing_in(client: Client, demo_plan: Plan) -> None:
    assert client.get("/offline/").status_code == 302
