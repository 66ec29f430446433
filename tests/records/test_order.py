"""What may never be true of orders and of what came."""

from __future__ import annotations

from typing import Any

import pytest

from tests.factories import (
    OrderFactory,
    OrderLineFactory,
    PromiseFactory,
    ReceiptFactory,
    SettlementFactory,
)
from tests.records.refused import refused

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("check", "fields"),
    [
        ("order_kind_known", {"kind": "stolen"}),
        ("order_move_known", {"move": "nobody"}),
        (
            "order_lead_early_before_likely",
            {"lead_early_days": 9, "lead_likely_days": 8, "lead_late_days": 11},
        ),
        (
            "order_lead_likely_before_late",
            {"lead_early_days": 6, "lead_likely_days": 12, "lead_late_days": 11},
        ),
    ],
)
def test_an_order_that_cannot_be(check: str, fields: dict[str, Any]) -> None:
    with refused(check):
        OrderFactory(**fields)


@pytest.mark.parametrize(
    ("check", "fields"),
    [
        ("order_line_quantity_positive", {"quantity_milli": 0}),
        ("order_line_unit_known", {"unit": "ft"}),
        ("order_line_hand_known", {"hand": "X"}),
    ],
)
def test_a_line_that_cannot_be(check: str, fields: dict[str, Any]) -> None:
    with refused(check):
        OrderLineFactory(**fields)


def test_a_line_number_stands_once_on_an_order() -> None:
    line = OrderLineFactory(number=1)
    with refused():
        OrderLineFactory(order=line.order, number=1)


def test_a_promise_says_a_day_or_words() -> None:
    with refused("promise_says_something"):
        PromiseFactory(eta_on=None, said="")


@pytest.mark.parametrize(
    ("check", "fields"),
    [
        ("receipt_kind_known", {"kind": "guessed"}),
        (
            "receipt_is_accepted_or_wrong",
            {"counted_milli": 3000, "accepted_milli": 1000, "wrong_milli": 1000},
        ),
        (
            "receipt_unopened_counts_nothing",
            {
                "kind": "in-the-box",
                "counted_milli": 1000,
                "accepted_milli": 1000,
                "wrong_milli": 0,
            },
        ),
        (
            "receipt_wrong_says_why",
            {
                "counted_milli": 1000,
                "accepted_milli": 0,
                "wrong_milli": 1000,
                "wrong_why": "",
            },
        ),
    ],
)
def test_a_receipt_that_cannot_be(check: str, fields: dict[str, Any]) -> None:
    with refused(check):
        ReceiptFactory(**fields)


@pytest.mark.parametrize(
    ("check", "fields"),
    [
        ("settlement_how_known", {"how": "forgotten"}),
        ("settlement_quantity_positive", {"quantity_milli": 0}),
    ],
)
def test_a_settlement_that_cannot_be(check: str, fields: dict[str, Any]) -> None:
    with refused(check):
        SettlementFactory(**fields)
