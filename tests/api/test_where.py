"""Where things lie, by program, on the demo shop."""

from __future__ import annotations

from rest_framework.test import APIClient


def test_a_place_names_all_that_lies_there(demo_api: APIClient) -> None:
    rows = demo_api.get("/api/where/", {"what": "rack 2"}).json()
    assert {row["code"] for row in rows} >= {"M07", "M08", "M09"}
    assert {row["place"] for row in rows if row["code"] == "M07"} == {"rack 2"}
    assert demo_api.get("/api/where/").json() == []
