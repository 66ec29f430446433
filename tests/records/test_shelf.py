"""What may never be true of the shelf, and how a count follows from its moves."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from django.db import IntegrityError, transaction

from fabshop import words
from fabshop.records.shelf import Consumable, Tray
from tests.factories import (
    ConsumableFactory,
    OrderLineFactory,
    ReceiptFactory,
    ShelfMoveFactory,
    ShelfSupplyFactory,
    ShelfWaiverFactory,
    TrayFactory,
)
from tests.factories.moment import MOMENT

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("name", "kind", "fields"),
    [
        ("consumable_unit_known", ConsumableFactory, {"unit": "hug"}),
        ("consumable_hazard_known", ConsumableFactory, {"hazard": "lava"}),
        (
            "consumable_opened_on_a_day_is_opened",
            ConsumableFactory,
            {"opened_on": date(2027, 7, 2)},
        ),
        ("consumable_lasts_or_has_a_last_day", ConsumableFactory, {"is_lasting": True}),
        (
            "consumable_retired_with_a_reason",
            ConsumableFactory,
            {"retired_at": MOMENT},
        ),
        ("tray_kind_known", TrayFactory, {"kind": "spoon"}),
        ("tray_has_a_size", TrayFactory, {"size": ""}),
        ("tray_retired_with_a_reason", TrayFactory, {"retired_at": MOMENT}),
        ("shelf_move_of_one", ShelfMoveFactory, {"consumable": None}),
        # Which of the two speaks first is the database's own affair.
        (
            "shelf_move_(kind_known|goes_its_way)",
            ShelfMoveFactory,
            {"kind": "set-to"},
        ),
        ("shelf_move_goes_its_way", ShelfMoveFactory, {"kind": "used"}),
        ("shelf_move_goes_its_way", ShelfMoveFactory, {"change_milli": 0}),
        (
            "shelf_count_adds_up_with_a_reason",
            ShelfMoveFactory,
            {"kind": "counted", "was_milli": 5, "seen_milli": 6, "change_milli": 2},
        ),
        (
            "shelf_count_adds_up_with_a_reason",
            ShelfMoveFactory,
            {"kind": "counted", "was_milli": 5, "seen_milli": 6, "change_milli": 1},
        ),
        ("shelf_waiver_has_a_reason", ShelfWaiverFactory, {"reason": ""}),
        ("shelf_supply_fills_one_thing", ShelfSupplyFactory, {"tray": None}),
        ("shelf_supply_of_something", ShelfSupplyFactory, {"each_milli": 0}),
    ],
)
def test_the_database_refuses(name: str, kind: Any, fields: dict[str, Any]) -> None:
    with pytest.raises(IntegrityError, match=name), transaction.atomic():
        kind(**fields)


def test_what_is_left_is_the_sum_of_the_moves_that_stand() -> None:
    resin = ConsumableFactory()
    ShelfMoveFactory(consumable=resin, change_milli=410_000)
    ShelfMoveFactory(consumable=resin, kind="used", change_milli=-95_000)
    ShelfMoveFactory(
        consumable=resin, kind="used", change_milli=-9_000, is_taken_back=True
    )
    assert Consumable.objects.with_left().get().left_milli == 315_000


def test_what_is_accepted_of_a_line_counts_and_what_is_taken_back_does_not() -> None:
    tray = TrayFactory()
    line = OrderLineFactory(quantity_milli=60_000)
    ShelfSupplyFactory(line=line, tray=tray)
    ShelfMoveFactory(consumable=None, tray=tray, change_milli=18_000)
    ReceiptFactory(line=line, counted_milli=45_000, accepted_milli=45_000)
    ReceiptFactory(
        line=line, kind="taken-back", counted_milli=5_000, accepted_milli=5_000
    )
    left = Tray.objects.with_left().get().left_milli
    assert left == 58_000
    assert isinstance(left, int)


def test_a_cartridge_of_the_order_is_so_many_grams_on_the_shelf() -> None:
    glue = ConsumableFactory()
    line = OrderLineFactory(quantity_milli=2_000)
    ShelfSupplyFactory(line=line, tray=None, consumable=glue, each_milli=20_000)
    ReceiptFactory(line=line, counted_milli=2_000, accepted_milli=2_000)
    assert Consumable.objects.with_left().get().left_milli == 40_000


def test_a_count_may_read_below_nothing() -> None:
    """Row 46: two phones took the last nuts; nothing is clipped."""
    tray = TrayFactory(kind=words.TrayKind.NUT)
    ShelfMoveFactory(consumable=None, tray=tray, change_milli=2_000)
    for _ in range(2):
        ShelfMoveFactory(consumable=None, tray=tray, kind="used", change_milli=-2_000)
    assert Tray.objects.with_left().get().left_milli == -2_000
