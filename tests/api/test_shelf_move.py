"""Moves on the shelf by program: never set to a figure, never twice by one key."""

from __future__ import annotations

from datetime import date

import pytest
from rest_framework.test import APIClient

from tests.factories import (
    ComponentFactory,
    ConsumableFactory,
    OrderLineFactory,
    ReceiptFactory,
    ShelfMoveFactory,
    TaskFactory,
    TrayFactory,
)


@pytest.fixture
def resin(db: None) -> str:
    thing = ConsumableFactory(code="C11")
    ShelfMoveFactory(consumable=thing, change_milli=410_000)
    return "/api/consumables/C11"


def left(api: APIClient, at: str, **said: object) -> float:
    answer = api.post(at, said, format="json")
    assert answer.status_code == 200, answer.content
    return float(answer.json()["left"])


def test_a_consumable_moves(api: APIClient, resin: str) -> None:
    task = TaskFactory().code
    assert left(api, f"{resin}/use/", quantity="95", task=task) == 315
    assert left(api, f"{resin}/came/", quantity="5") == 320
    assert left(api, f"{resin}/back/", quantity="5") == 325
    assert left(api, f"{resin}/throw/", quantity="25", why="lumps") == 300
    assert left(api, f"{resin}/count/", seen="290.5", reason="spilt") == 290.5
    refused = api.post(f"{resin}/count/", {"seen": "1"}, format="json")
    assert (refused.status_code, refused.json()["errors"][0]["field"]) == (
        422,
        "reason",
    )
    assert api.post(f"{resin}/gone/", {"why": "hard"}, format="json").status_code == 200
    assert (
        api.post(f"{resin}/use/", {"quantity": "1"}, format="json").status_code == 409
    )


def test_the_same_key_moves_once(api: APIClient, resin: str) -> None:
    for _ in range(2):
        api.post(
            f"{resin}/use/",
            {"quantity": "95"},
            format="json",
            headers={"Idempotency-Key": "tap"},
        )
    assert api.get(f"{resin}/").json()["left"] == 315


def test_gone_off_is_held(api: APIClient) -> None:
    """Row 44."""
    ConsumableFactory(code="C05", use_by_on=date(2020, 8, 31))
    said = {"quantity": "1", "task": TaskFactory().code}
    answer = api.post("/api/consumables/C05/use/", said, format="json")
    assert (answer.status_code, answer.json()["code"]) == (409, "gone-off")


def test_a_tray_moves_below_nothing_too(api: APIClient) -> None:
    """Row 46."""
    tray = TrayFactory(code="F11")
    ShelfMoveFactory(consumable=None, tray=tray, change_milli=2_000)
    part = ComponentFactory().code
    at = "/api/trays/F11"
    assert left(api, f"{at}/take/", quantity="2", component=part) == 0
    assert left(api, f"{at}/bag-short/", component=part) == -1
    assert left(api, f"{at}/count/", seen="3", reason="looked") == 3
    assert left(api, f"{at}/came/", quantity="1") == 4
    assert left(api, f"{at}/back/", quantity="1") == 5
    assert left(api, f"{at}/throw/", quantity="1", why="bent") == 4
    assert (
        api.post(f"{at}/take/", {"quantity": "0.5"}, format="json").status_code == 422
    )
    assert (
        api.post(f"{at}/gone/", {"why": "mixed up"}, format="json").status_code == 200
    )


def test_an_order_line_fills_it(api: APIClient, resin: str) -> None:
    line = OrderLineFactory(quantity_milli=2_000)
    ReceiptFactory(line=line, counted_milli=2_000, accepted_milli=2_000)
    said = {"order": line.order.code, "number": line.number, "each": "20"}
    assert left(api, f"{resin}/fill/", **said) == 450
    TrayFactory(code="F11")
    assert api.post("/api/trays/F11/fill/", said, format="json").status_code == 409
    strange = {"order": "P99", "number": 1}
    assert api.post("/api/trays/F11/fill/", strange, format="json").status_code == 404
