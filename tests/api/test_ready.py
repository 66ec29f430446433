"""Readiness by program, on the demo shop."""

from __future__ import annotations

from typing import Any

from rest_framework.test import APIClient


def test_every_reason_is_told_with_its_day(demo_api: APIClient) -> None:
    rows: dict[str, Any] = {
        row["task"]: row for row in demo_api.get("/api/readiness/").json()
    }
    wanting = rows["W21"]
    assert wanting["why"] == "wants-parts"
    reason = next(r for r in wanting["reasons"] if r["why"] == "wants-parts")
    assert reason["lines"] == ["P06/1"]
    assert reason["clears_at"].startswith("2027-09-18T")
    assert rows["W34"]["why"] in ("ready", "out-of-hours")


def test_the_list_is_of_one_build_where_asked(demo_api: APIClient) -> None:
    rows = demo_api.get("/api/readiness/", {"build": "gannet"}).json()
    assert {row["build"] for row in rows} == {"gannet"}


def test_what_hangs_on_a_line(demo_api: APIClient) -> None:
    rows = {row["line"]: row for row in demo_api.get("/api/hanging/").json()}
    assert "W21" in rows["P06/1"]["tasks"]
    assert rows["P06/1"]["teardown"] is True
    assert rows["P25/1"]["tasks"] == []


def test_now_fits_the_time_there_is(demo_api: APIClient) -> None:
    told = demo_api.get("/api/now/", {"minutes": 40}).json()
    assert all(start["minutes"] <= 40 for start in told["start"])
    assert len(told["blocked"]) == 21


def test_no_time_is_refused_by_name(demo_api: APIClient) -> None:
    answer = demo_api.get("/api/now/", {"minutes": "soon"})
    assert answer.status_code == 400
    assert answer.json()["errors"][0]["field"] == "minutes"
