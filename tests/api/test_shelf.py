"""The shelf by program: put there, dated, opened, overruled, and what to order."""

from __future__ import annotations

from rest_framework.test import APIClient

from fabshop.records.shop import Shop
from tests.factories import TaskFactory

RESIN = {
    "code": "C11",
    "name": "Slow epoxy",
    "unit": "g",
    "quantity": "410",
    "use_by_on": "2027-08-31",
}


def test_it_is_put_there_once_and_says_that_it_has_gone_off(api: APIClient) -> None:
    for _ in range(2):
        answer = api.post(
            "/api/consumables/", RESIN, format="json", headers={"Idempotency-Key": "a"}
        )
        assert answer.status_code == 201, answer.content
    told = api.get("/api/consumables/C11/").json()
    assert (told["left"], told["unit"], told["is_opened"]) == (410.0, "g", False)
    assert told["last_good_on"] == "2027-08-31"
    again = api.post("/api/consumables/", RESIN, format="json")
    assert again.status_code == 409


def test_its_dates_are_said_and_it_is_opened_once(api: APIClient) -> None:
    """Row 45: null is unknown."""
    api.post("/api/consumables/", RESIN | {"use_by_on": None}, format="json")
    told = api.get("/api/consumables/C11/").json()
    assert (told["keeps"], told["last_good_on"]) == ("unknown", None)
    opened = api.post("/api/consumables/C11/opened/", {}, format="json")
    assert opened.json()["is_opened"]
    assert (
        api.post("/api/consumables/C11/opened/", {}, format="json").status_code == 409
    )
    changed = api.patch("/api/consumables/C11/", {"place": "cold shelf"}, format="json")
    assert changed.json()["place"] == "cold shelf"


def test_an_overruling_wants_a_reason(api: APIClient) -> None:
    """Row 44."""
    api.post("/api/consumables/", RESIN, format="json")
    said = {"task": TaskFactory().code}
    at = "/api/consumables/C11/overrule/"
    assert api.post(at, said, format="json").status_code == 400
    assert api.post(at, said | {"reason": "hard"}, format="json").status_code == 200


def test_a_tray_is_put_there_and_moved(api: APIClient) -> None:
    said = {"code": "F11", "size": "M2x6", "kind": "screw", "quantity": "20"}
    told = api.post("/api/trays/", said, format="json").json()
    assert (told["size"], told["left"]) == ("M2×6", 20.0)
    api.patch("/api/trays/F11/", {"place": "drawer 2"}, format="json")
    assert api.get("/api/trays/").json()[0]["place"] == "drawer 2"
    assert api.get("/api/trays/F11/").json()["kind"] == "screw"


def test_what_to_order_is_told(demo_api: APIClient, demo: Shop) -> None:
    """Check value 10."""
    rows = {
        row["consumable"]: row for row in demo_api.get("/api/shelf/to-order/").json()
    }
    assert rows["C01"]["quantity"] == 145.0
    listed = {row["code"]: row for row in demo_api.get("/api/consumables/").json()}
    assert (listed["C01"]["wanted"], listed["C01"]["short"]) == (555.0, 145.0)
    assert listed["C05"]["keeps"] == "gone-off"
