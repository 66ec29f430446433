"""Lines of an order by program."""

from __future__ import annotations

from rest_framework.test import APIClient

from tests.factories import OrderFactory, OrderLineFactory, ReceiptFactory


def test_a_line_is_added_and_changed(api: APIClient) -> None:
    order = OrderFactory(code="P70")
    made = api.post(
        "/api/orders/P70/lines/", {"title": "Clip", "quantity": 4}, format="json"
    )
    assert made.status_code == 201, made.content
    (line,) = made.json()["lines"]
    changed = api.patch(
        f"/api/orders/P70/lines/{line['number']}/",
        {"version": made.json()["version"], "quantity": 6},
        format="json",
    )
    assert changed.status_code == 200, changed.content
    assert changed.json()["lines"][0]["quantity"] == 6
    stale = api.patch(
        "/api/orders/P70/lines/1/",
        {"version": order.version, "quantity": 5},
        format="json",
    )
    assert stale.status_code == 409


def test_a_line_is_never_for_less_than_has_come(api: APIClient) -> None:
    line = OrderLineFactory(quantity_milli=5000)
    ReceiptFactory(line=line, counted_milli=3000, accepted_milli=3000)
    answer = api.patch(
        f"/api/orders/{line.order.code}/lines/{line.number}/",
        {"version": line.order.version, "quantity": 2},
        format="json",
    )
    assert answer.status_code == 422
    assert "have come already" in answer.json()["detail"]
