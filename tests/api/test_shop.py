"""The shop, its hours and days by program."""

from __future__ import annotations

from rest_framework.test import APIClient

from fabshop.records.shop import Person


def test_the_shop_is_changed_by_its_owner(
    api: APIClient, helpers_api: APIClient
) -> None:
    assert (
        api.patch("/api/shop/", {"zone": "Mars/Base"}, format="json").status_code == 422
    )
    changed = api.patch("/api/shop/", {"delivery_minute": 660}, format="json")
    assert changed.json()["delivery_minute"] == 660
    refused = helpers_api.patch("/api/shop/", {"name": "Mine"}, format="json")
    assert refused.status_code == 403


def test_a_second_shop_is_refused(api: APIClient) -> None:
    answer = api.post("/api/shop/", {"name": "Two", "zone": "UTC"}, format="json")
    assert answer.status_code == 409
    assert "There is a shop here already" in answer.json()["detail"]


def test_weekly_hours_replace_those_that_were(api: APIClient, owner: Person) -> None:
    week = {
        "person": owner.name,
        "from_on": "2027-09-06",
        "to_on": "2027-09-19",
        "hours": [{"weekday": 0, "from_minute": 1080, "to_minute": 1260}],
    }
    answer = api.put("/api/hours/week/", week, format="json")
    assert answer.status_code == 200, answer.content
    assert [row["on"] for row in answer.json()] == ["2027-09-06", "2027-09-13"]
    week["hours"] = [{"weekday": 7, "from_minute": 0, "to_minute": 60}]
    refused = api.put("/api/hours/week/", week, format="json")
    assert refused.json()["errors"][0]["field"] == "hours[0].weekday"


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
