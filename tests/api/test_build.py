"""Builds by program: made, changed, copied, closed."""

from __future__ import annotations

from rest_framework.test import APIClient

from tests.factories import BuildFactory, ComponentFactory

WREN = {"slug": "wren", "letter": "R", "name": "Wren"}


def test_a_build_is_made_changed_closed_and_opened_again(api: APIClient) -> None:
    made = api.post("/api/builds/", WREN, format="json")
    assert made.status_code == 201, made.content
    moment = "2027-09-22T12:00:00Z"
    changed = api.patch("/api/builds/wren/", {"pack_out_at": moment}, format="json")
    assert changed.json()["pack_out_at"] == moment
    assert api.post("/api/builds/wren/close/").json()["state"] == "closed"
    assert api.post("/api/builds/wren/reopen/").json()["state"] == "live"


def test_a_name_taken_is_refused(api: APIClient) -> None:
    api.post("/api/builds/", WREN, format="json")
    again = api.post("/api/builds/", {**WREN, "letter": "Q"}, format="json")
    assert again.status_code in (409, 422)
    assert again.json()["errors"][0]["field"] == "slug"


def test_a_copy_begins_fresh(api: APIClient) -> None:
    build = BuildFactory(slug="tuppence", letter="T")
    ComponentFactory(build=build, code="T01", state="final")
    answer = api.post("/api/builds/tuppence/copy/", WREN, format="json")
    assert answer.status_code == 201, answer.content
    parts = api.get("/api/components/", {"build__slug": "wren"}).json()["results"]
    assert [(part["code"], part["state"]) for part in parts] == [("R01", "missing")]
