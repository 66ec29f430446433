"""Spares and breakages by program."""

from __future__ import annotations

from rest_framework.test import APIClient

from tests.factories import ComponentFactory


def test_a_spare_is_added_changed_and_read(api: APIClient) -> None:
    ComponentFactory(code="T18")
    told = {"code": "SP1", "title": "Old pod", "fits": ["T18"]}
    first = api.post("/api/spares/", told, format="json")
    assert first.status_code == 201, first.content
    assert first.json()["fits"] == ["T18"]
    changed = api.patch("/api/spares/SP1/", {"place": "case 2"}, format="json")
    assert changed.json()["place"] == "case 2"
    assert api.get("/api/spares/").json()["count"] == 1


def test_a_place_that_is_not_there_is_named(api: APIClient) -> None:
    told = {"code": "SP1", "title": "Old pod", "fits": ["T99"]}
    answer = api.post("/api/spares/", told, format="json")
    assert answer.status_code == 400
    assert "fits" in answer.json()["errors"][0]["field"]


def test_a_breakage_is_logged_once(api: APIClient) -> None:
    ComponentFactory(code="T18")
    keys = {"headers": {"Idempotency-Key": "k1"}, "format": "json"}
    answers = [
        api.post("/api/components/T18/broke/", {"text": "Bent."}, **keys)
        for _ in range(2)
    ]
    assert [answer.status_code for answer in answers] == [201, 201]
    assert api.get("/api/log/?kind=broke").json()["count"] == 1
