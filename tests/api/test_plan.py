"""Teardowns by program, on the demo shop: asked, accepted, ticked."""

from __future__ import annotations

from rest_framework.test import APIClient

from fabshop.records.build import Component


def test_the_last_teardown_is_asked_accepted_and_begun(demo_api: APIClient) -> None:
    asked = demo_api.post("/api/plans/", {"build": "tuppence"}, format="json")
    assert asked.status_code == 201, asked.content
    plan = asked.json()
    assert plan["state"] == "proposed"
    assert plan["answer"]["sessions"]
    accepted = demo_api.post(f"/api/plans/{plan['id']}/accept/").json()
    assert (accepted["state"], accepted["edition"]) == ("accepted", "A")
    first = next(step for step in accepted["steps"] if step["does"] == "remove")
    ticked = demo_api.post(
        f"/api/plans/{plan['id']}/tick/", {"number": first["number"]}, format="json"
    )
    assert ticked.status_code == 200, ticked.content
    assert Component.objects.get(code=first["component"]).is_on is False


def test_a_build_without_a_pack_out_is_refused_by_name(demo_api: APIClient) -> None:
    demo_api.patch("/api/builds/gannet/", {"pack_out_at": None}, format="json")
    answer = demo_api.post("/api/plans/", {"build": "gannet"}, format="json")
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["field"] == "pack_out_at"


def test_four_sessions_are_too_many(demo_api: APIClient) -> None:
    answer = demo_api.post(
        "/api/plans/", {"build": "tuppence", "max_sessions": 4}, format="json"
    )
    assert answer.status_code == 400
    assert answer.json()["errors"][0]["field"] == "max_sessions"
