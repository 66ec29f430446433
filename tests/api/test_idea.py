"""The Chalk wall by program."""

from __future__ import annotations

from rest_framework.test import APIClient


def test_an_idea_is_chalked_once_taken_up_and_wiped_only_before(api: APIClient) -> None:
    keys = {"headers": {"Idempotency-Key": "k1"}, "format": "json"}
    first = api.post("/api/ideas/", {"text": "Rings"}, **keys)
    assert first.status_code == 201, first.content
    assert api.post("/api/ideas/", {"text": "Rings"}, **keys).json() == first.json()
    pk = first.json()["id"]
    told = {"code": "W90", "title": "Rings", "minutes": 90}
    weighed = api.post(f"/api/ideas/{pk}/weigh/", told, format="json")
    assert weighed.json()["errors"][0]["field"] == "plan"
    taken = api.post(f"/api/ideas/{pk}/promote/", told, format="json")
    assert taken.json()["task"] == "W90"
    assert api.post(f"/api/ideas/{pk}/wipe/").status_code == 409
