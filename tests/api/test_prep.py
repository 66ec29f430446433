"""Checklists and colour tables by program."""

from __future__ import annotations

from rest_framework.test import APIClient


def test_a_checklist_is_read_and_its_next_version_made(
    api: APIClient, helpers_api: APIClient
) -> None:
    told = api.get("/api/prep/titanium/").json()
    assert told["version"] == 1
    assert all(step["source"] for step in told["steps"])
    said = {"steps": [{"text": "Degrease", "is_stop": True}], "seen_version": 1}
    assert (
        helpers_api.put("/api/prep/titanium/", said, format="json").status_code == 403
    )
    made = api.put("/api/prep/titanium/", said, format="json").json()
    assert (made["version"], made["steps"][0]["source"]) == (2, "own practice")
    assert api.put("/api/prep/titanium/", said, format="json").status_code == 409
    assert api.get("/api/prep/cheese/").status_code == 404


def test_colours_are_judged_by_the_shops_own_table(api: APIClient) -> None:
    told = api.get("/api/prep/titanium/colours/").json()
    assert {"colour": "blue", "verdict": "reject"} in told["verdicts"]
    said = {
        "name": "Ours",
        "source": "Sample board",
        "verdicts": [{"colour": "brown", "verdict": "accept"}],
    }
    made = api.put("/api/prep/titanium/colours/", said, format="json")
    assert made.json() == said


def test_the_hours_are_set(api: APIClient) -> None:
    said = {"clean_minutes": 120}
    assert api.put("/api/prep/hours/", said, format="json").json() == said
    over = api.put("/api/prep/hours/", {"clean_minutes": 10**6}, format="json")
    assert over.status_code == 422
