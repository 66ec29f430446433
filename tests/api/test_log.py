"""The log by program: read, filtered, written, taken back."""

from __future__ import annotations

from rest_framework.test import APIClient

from fabshop.records.shop import Person
from tests.factories import TaskFactory


def test_a_note_about_a_task_is_read_back(api: APIClient, owner: Person) -> None:
    TaskFactory(code="W34")
    made = api.post(
        "/api/log/", {"text": "toe crack", "task": "W34"}, format="json"
    ).json()
    assert api.get(f"/api/log/{made['client_id']}/").json()["text"] == "toe crack"
    found = api.get("/api/log/", {"task__code": "W34"}).json()["results"]
    assert [entry["text"] for entry in found] == ["toe crack"]
    assert found[0]["person"] == owner.name


def test_a_line_is_taken_back_by_another(api: APIClient) -> None:
    made = api.post("/api/log/", {"text": "oops"}, format="json").json()
    undone = api.post(f"/api/log/{made['client_id']}/undo/")
    assert undone.status_code == 201
    assert undone.json()["reverses"] == made["client_id"]
    again = api.post(f"/api/log/{made['client_id']}/undo/")
    assert again.status_code == 409


def test_a_long_text_keeps_its_beginning_and_says_so(api: APIClient) -> None:
    made = api.post("/api/log/", {"text": "x" * 20_010}, format="json").json()
    assert len(made["text"]) == 20_000
    assert "20010" in made["notice"]
