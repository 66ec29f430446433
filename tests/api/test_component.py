"""Places on a build by program: covers, twins, fastenings, on and off."""

from __future__ import annotations

import pytest
from rest_framework.test import APIClient

from fabshop.records.build import Build
from tests.factories import BuildFactory


@pytest.fixture
def build(api: APIClient) -> Build:
    made: Build = BuildFactory(slug="wren", letter="R")
    for code in ("R01", "R02", "R03"):
        answer = api.post(
            "/api/components/",
            {"build": "wren", "code": code, "name": f"Part {code}", "off_minutes": 4},
            format="json",
        )
        assert answer.status_code == 201, answer.content
    return made


def test_what_lies_under_what_is_said_and_loops_are_named(
    api: APIClient, build: Build
) -> None:
    told = api.put(
        "/api/components/R02/covers/", {"routes": [["R01"], ["R03"]]}, format="json"
    )
    assert told.json()["routes"] == [["R01"], ["R03"]]
    api.put("/api/components/R02/covers/", {"routes": [["R01"]]}, format="json")
    loop = api.put("/api/components/R01/covers/", {"routes": [["R02"]]}, format="json")
    assert loop.status_code == 409
    assert "R01" in loop.json()["detail"]
    assert "R02" in loop.json()["detail"]


def test_what_is_shut_in_does_not_come_off(api: APIClient, build: Build) -> None:
    api.put("/api/components/R02/covers/", {"routes": [["R01"]]}, format="json")
    refused = api.post("/api/components/R02/take-off/", {}, format="json")
    assert refused.status_code == 409
    assert "R01" in refused.json()["detail"]
    for code in ("R01", "R02"):
        off = api.post(f"/api/components/{code}/take-off/", {}, format="json")
        assert off.json()["is_on"] is False
    assert api.post("/api/components/R02/put-on/", {}, format="json").json()["is_on"]


def test_another_part_sits_there_now(api: APIClient, build: Build) -> None:
    told = api.post(
        "/api/components/R01/swap/", {"state": "stand-in"}, format="json"
    ).json()
    assert told["state"] == "stand-in"


def test_twins_and_fastenings(api: APIClient, build: Build) -> None:
    told = api.put(
        "/api/components/R01/twin/", {"twin": "R02", "side": "L"}, format="json"
    ).json()
    assert (told["twin"], told["side"]) == ("R02", "L")
    assert api.get("/api/components/R02/").json()["side"] == "R"
    told = api.put("/api/components/R01/twin/", {"twin": None}, format="json").json()
    assert told["twin"] is None
    told = api.put(
        "/api/components/R01/fastenings/",
        {"fastenings": [{"count": 4, "size": "M3×8 BH", "locker": "medium"}]},
        format="json",
    ).json()
    assert told["fastenings"][0]["count"] == 4


def test_a_change_on_an_old_reading_is_a_clash(api: APIClient, build: Build) -> None:
    version = api.get("/api/components/R01/").json()["version"]
    first = {"version": version, "name": "Nose"}
    assert api.patch("/api/components/R01/", first, format="json").status_code == 200
    second = {"version": version, "name": "Cone"}
    answer = api.patch("/api/components/R01/", second, format="json")
    assert answer.status_code == 409
    assert "Nose" in answer.json()["detail"]


def test_negative_minutes_are_refused_by_name(api: APIClient, build: Build) -> None:
    version = api.get("/api/components/R01/").json()["version"]
    answer = api.patch(
        "/api/components/R01/", {"version": version, "off_minutes": -1}, format="json"
    )
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["field"] == "off_minutes"


def test_a_place_is_retired(api: APIClient, build: Build) -> None:
    answer = api.post("/api/components/R03/retire/", {"confirm": True}, format="json")
    assert answer.json()["state"] == "retired"
