"""Parcels by program, on the demo shop: what they free, what came wrong."""

from __future__ import annotations

from rest_framework.test import APIClient

from fabshop.records.order import Receipt


def test_a_parcel_frees_the_task_that_wanted_it(demo_api: APIClient) -> None:
    before = demo_api.get("/api/readiness/", {"why": "wants-parts"}).json()
    assert len(before) == 21
    answer = demo_api.post(
        "/api/orders/P16/receive/",
        {"counts": [{"line": 1, "accepted": "1"}]},
        format="json",
    )
    assert answer.status_code == 201, answer.content
    assert "W33" in answer.json()["freed"]
    after = demo_api.get("/api/readiness/", {"why": "wants-parts"}).json()
    assert {row["task"] for row in before} - {row["task"] for row in after} == {"W33"}


def test_a_fraction_of_a_piece_is_refused(demo_api: APIClient) -> None:
    answer = demo_api.post(
        "/api/orders/P16/receive/",
        {"counts": [{"line": 1, "accepted": "0.5"}]},
        format="json",
    )
    assert answer.status_code == 422
    assert answer.json()["errors"]


def test_wrong_pieces_free_nothing_and_are_ordered_again(demo_api: APIClient) -> None:
    wrong = demo_api.post(
        "/api/orders/P16/receive/",
        {"counts": [{"line": 1, "wrong": "1", "why": "size"}]},
        format="json",
    )
    assert wrong.status_code == 201, wrong.content
    assert wrong.json()["freed"] == []
    again = demo_api.post(
        "/api/orders/P16/reorder/", {"line": 1, "quantity": "1"}, format="json"
    )
    assert again.status_code == 201, again.content
    assert again.json()["move"] == "me"


def test_what_was_counted_goes_back_out(demo_api: APIClient) -> None:
    demo_api.post(
        "/api/orders/P16/receive/",
        {"counts": [{"line": 1, "accepted": "1"}]},
        format="json",
    )
    receipt = Receipt.objects.get(line__order__code="P16")
    answer = demo_api.post(f"/api/receipts/{receipt.pk}/take-back/", {}, format="json")
    assert answer.status_code == 201, answer.content
    wanting = demo_api.get("/api/readiness/", {"why": "wants-parts"}).json()
    assert "W33" in {row["task"] for row in wanting}


def test_the_rest_is_refunded(demo_api: APIClient) -> None:
    demo_api.post(
        "/api/orders/P04/receive/",
        {"counts": [{"line": 1, "accepted": "12"}]},
        format="json",
    )
    answer = demo_api.post(
        "/api/orders/P04/settle/",
        {"line": 1, "how": "refunded", "quantity": "2"},
        format="json",
    )
    assert answer.status_code == 200, answer.content
    assert answer.json()["lines"][0]["settlements"][0]["how"] == "refunded"
