"""People, hours and days by program."""

from __future__ import annotations

from rest_framework.test import APIClient

from fabshop.records.shop import Person


def test_who_am_i(api: APIClient, owner: Person) -> None:
    assert api.get("/api/me/").json() == {
        "name": owner.name,
        "role": "owner",
        "is_active": True,
    }


def test_a_helper_is_added(api: APIClient) -> None:
    made = api.post("/api/people/", {"name": "Ivo", "role": "helper"}, format="json")
    assert made.status_code == 201, made.content
    assert "Ivo" in [row["name"] for row in api.get("/api/people/").json()["results"]]


def test_hours_that_touch_are_merged_with_a_notice(
    api: APIClient, owner: Person
) -> None:
    evening = {"person": owner.name, "on": "2027-09-03"}
    api.post(
        "/api/hours/",
        {**evening, "from_minute": 1080, "to_minute": 1200},
        format="json",
    )
    second = api.post(
        "/api/hours/",
        {**evening, "from_minute": 1140, "to_minute": 1320},
        format="json",
    )
    assert second.status_code == 201, second.content
    assert second.json()["notice"]
    rows = api.get("/api/hours/", {"on": "2027-09-03"}).json()["results"]
    assert [(row["from_minute"], row["to_minute"]) for row in rows] == [(1080, 1320)]
    assert api.delete(f"/api/hours/{rows[0]['id']}/").status_code == 204


def test_a_day_out_of_the_ordinary(api: APIClient) -> None:
    told = api.put("/api/days/2027-09-05/", {"has_deliveries": False}, format="json")
    assert told.status_code == 200, told.content
    assert api.get("/api/days/2027-09-05/").json()["has_deliveries"] is False
    assert api.get("/api/days/").json()["count"] == 1


def test_what_is_no_day_is_refused_by_name(api: APIClient) -> None:
    answer = api.put("/api/days/soon/", {}, format="json")
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["field"] == "on"
