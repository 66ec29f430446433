"""The Chalk wall takes a line in one tap, and shows the price before it is taken up."""

from __future__ import annotations

import pytest
from django.test import Client

from fabshop.records.idea import Idea
from fabshop.records.task import Task
from tests.factories import IdeaFactory

pytestmark = pytest.mark.django_db


def test_a_line_is_chalked_up_and_nothing_else_is_asked(page: Client) -> None:
    answer = page.post("/chalk-wall/", {"text": "Brass rings", "client_id": "i1"})
    assert answer.headers["Location"] == "/chalk-wall/"
    told = page.get("/chalk-wall/").text
    assert "1 idea. None of them is in the plan." in told
    assert "Brass rings" in told


def test_nothing_written_is_said_at_the_field(page: Client) -> None:
    answer = page.post("/chalk-wall/", {"text": ""})
    assert answer.status_code == 422
    assert "Nothing is written yet." in answer.text


def test_a_viewer_reads_the_wall_and_writes_nothing(viewers_page: Client) -> None:
    assert viewers_page.get("/chalk-wall/").status_code == 200
    assert viewers_page.post("/chalk-wall/", {"text": "x"}).status_code == 403


def test_promoting_asks_hours_and_says_where_a_plan_is_missing(page: Client) -> None:
    idea = IdeaFactory()
    form = page.get(f"/ideas/{idea.pk}/").text
    assert "What does it displace?" in form
    assert "Take it up all the same" not in form
    told = {"code": "W90", "title": "Rings", "minutes": "", "points": "2"}
    assert page.post(f"/ideas/{idea.pk}/", told).status_code == 422
    answer = page.post(f"/ideas/{idea.pk}/", told | {"minutes": "90"})
    assert "Ask for the plan first" in answer.text


def test_taken_up_it_leads_to_its_task(page: Client) -> None:
    idea = IdeaFactory()
    told = {"code": "W90", "title": "Rings", "minutes": "1 h 30", "take_up": "1"}
    answer = page.post(f"/ideas/{idea.pk}/", told)
    assert answer.headers["Location"] == "/tasks/W90/"
    assert Idea.objects.get().task == Task.objects.get(code="W90")
    assert "Taken up as" in page.get(f"/ideas/{idea.pk}/").text


def test_wiped_off_it_is_gone_from_the_wall(page: Client) -> None:
    idea = IdeaFactory()
    page.post(f"/ideas/{idea.pk}/wipe/")
    assert "Nothing on it." in page.get("/chalk-wall/").text
    assert "Wiped off" in page.get(f"/ideas/{idea.pk}/").text
