"""Orders by program: added, sent, promised, given up."""

from __future__ import annotations

from rest_framework.test import APIClient

from fabshop.records.order import Order
from tests.factories import SupplierFactory


def order(api: APIClient) -> None:
    SupplierFactory(code="nib")
    answer = api.post(
        "/api/orders/",
        {
            "code": "P90",
            "supplier": "nib",
            "title": "Brackets",
            "kind": "cut",
            "lead_early_days": 6,
            "lead_likely_days": 8,
            "lead_late_days": 11,
            "lines": [
                {"title": "Bracket L", "quantity": "2", "hand": "L"},
                {"title": "Mat", "quantity": "0.4", "unit": "m2"},
            ],
        },
        format="json",
    )
    assert answer.status_code == 201, answer.content


def test_an_order_is_sent_and_its_words_are_kept(api: APIClient) -> None:
    order(api)
    sent = api.post("/api/orders/P90/sent/", {"revision": "B"}, format="json")
    assert sent.json()["move"] == "firm"
    assert sent.json()["sendings"][0]["revision"] == "B"
    for day in ("2027-09-12", "2027-09-15"):
        answer = api.post("/api/orders/P90/promise/", {"eta_on": day}, format="json")
        assert answer.status_code == 200, answer.content
    told = api.get("/api/orders/P90/").json()
    assert [promise["eta_on"] for promise in told["promises"]] == [
        "2027-09-12",
        "2027-09-15",
    ]
    assert [line["quantity"] for line in told["lines"]] == [2.0, 0.4]


def test_row_19_an_eta_before_the_sent_day_is_refused(api: APIClient) -> None:
    order(api)
    api.post("/api/orders/P90/sent/", {"revision": "B"}, format="json")
    answer = api.post(
        "/api/orders/P90/promise/", {"eta_on": "2027-09-01"}, format="json"
    )
    assert answer.status_code == 422
    told = answer.json()["errors"]
    assert [one["field"] for one in told] == ["eta_on", "sent_on"]
    assert "it cannot come before it was sent" in told[0]["message"]
    assert api.get("/api/orders/P90/").json()["promises"] == []


def test_row_22_a_promise_before_sending_is_refused(api: APIClient) -> None:
    order(api)
    answer = api.post(
        "/api/orders/P90/promise/", {"eta_on": "2027-09-12"}, format="json"
    )
    assert answer.status_code == 422
    assert "sent" in answer.json()["detail"]


def test_not_sent_after_all(api: APIClient) -> None:
    order(api)
    api.post("/api/orders/P90/sent/", {}, format="json")
    api.post("/api/orders/P90/not-sent/", {}, format="json")
    assert Order.objects.get(code="P90").sent_on is None


def test_leads_out_of_order_are_refused_with_the_three(api: APIClient) -> None:
    order(api)
    version = api.get("/api/orders/P90/").json()["version"]
    answer = api.patch(
        "/api/orders/P90/", {"version": version, "lead_early_days": 20}, format="json"
    )
    assert answer.status_code == 422
    assert "20 / 8 / 11" in answer.json()["detail"]


def test_giving_up_what_nobody_needs(api: APIClient) -> None:
    order(api)
    answer = api.post("/api/orders/P90/give-up/", {}, format="json")
    assert answer.status_code == 200
    assert answer.json()["given_up_at"]


def test_the_box_may_stay_shut(api: APIClient) -> None:
    order(api)
    api.post("/api/orders/P90/sent/", {}, format="json")
    told = api.post("/api/orders/P90/leave-shut/", {}, format="json").json()
    assert told["lines"][0]["receipts"][0]["kind"] == "in-the-box"


def test_a_supplier_with_a_nul_is_refused_on_either_database(api: APIClient) -> None:
    answer = api.post(
        "/api/orders/",
        {
            "code": "P91",
            "supplier": "\x00",
            "title": "x",
            "kind": "cut",
            "lines": [],
        },
        format="json",
    )
    assert answer.status_code == 400
    assert answer.json()["errors"][0]["field"] == "supplier"
