"""The shelf as facts, in a fixed number of queries."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from pytest_django import DjangoAssertNumQueries

from fabshop.reckoning.facts import SlipFact
from fabshop.records.shop import Shop
from fabshop.snapshot import take
from fabshop.snapshot.shelf import consumable_facts, shelf_stands, tray_facts
from tests.factories import (
    ConsumableFactory,
    OrderFactory,
    OrderLineFactory,
    ReceiptFactory,
    SettlementFactory,
    ShelfMoveFactory,
    ShelfSupplyFactory,
    ShelfWaiverFactory,
    SupplierFactory,
    TaskFactory,
    TrayFactory,
)
from tests.factories.moment import TODAY

pytestmark = pytest.mark.django_db


def supply(thing: object, **order: object) -> object:
    line = OrderLineFactory(order=OrderFactory(**order), quantity_milli=3_000)
    ShelfSupplyFactory(line=line, consumable=thing, tray=None, each_milli=20_000)
    return line


def test_the_firm_that_last_brought_it_says_how_long_it_takes() -> None:
    glue = ConsumableFactory()
    first = supply(glue, supplier=SupplierFactory(name="Nib"), lead_late_days=40)
    ReceiptFactory(line=first, counted_milli=3_000, accepted_milli=3_000)
    (fact,) = consumable_facts()
    assert (fact.firm, fact.lead_days, fact.left_milli) == ("Nib", 40, 60_000)


def test_a_firm_with_a_record_takes_as_long_as_that_says(
    shop: Shop, now: datetime
) -> None:
    nib = SupplierFactory(name="Nib")
    lead = {"lead_likely_days": 8, "lead_late_days": 40}
    first = supply(ConsumableFactory(), supplier=nib, **lead)
    ReceiptFactory(line=first, counted_milli=3_000, accepted_milli=3_000)
    facts = take(now)
    (stand,) = shelf_stands(facts)
    assert stand.thing.lead_days == 40
    slips = tuple(
        SlipFact("Nib", f"P{n}", TODAY, TODAY + timedelta(days=n)) for n in range(3)
    )
    (stand,) = shelf_stands(replace(facts, slips=slips))
    assert stand.thing.lead_days == 8 + 2


def test_what_is_owed_is_coming_and_what_is_refunded_is_not() -> None:
    glue = ConsumableFactory()
    line = supply(glue)
    ReceiptFactory(line=line, counted_milli=1_000, accepted_milli=1_000)
    SettlementFactory(line=line, how="refunded", quantity_milli=1_000)
    (fact,) = consumable_facts()
    assert (fact.left_milli, fact.coming_milli) == (20_000, 20_000)
    assert fact.firm


def test_a_given_up_order_brings_nothing() -> None:
    glue = ConsumableFactory()
    line = supply(glue)
    line.order.given_up_at = ReceiptFactory().at  # type: ignore[attr-defined]
    line.order.save()  # type: ignore[attr-defined]
    assert consumable_facts()[0].coming_milli == 0


def test_what_was_let_through_of_an_older_lot_says_nothing_of_this_one() -> None:
    glue = ConsumableFactory(use_by_on=TODAY)
    task = TaskFactory(code="W17")
    ShelfWaiverFactory(consumable=glue, task=task)
    assert consumable_facts()[0].let == ()
    ShelfWaiverFactory(consumable=glue, task=task, last_good_on=TODAY, reason="hard")
    assert consumable_facts()[0].let == (("W17", "hard"),)


def test_it_takes_as_many_queries_for_twenty_as_for_one(
    django_assert_num_queries: DjangoAssertNumQueries,
) -> None:
    for _ in range(20):
        ShelfMoveFactory(consumable=ConsumableFactory())
        tray = TrayFactory()
        line = OrderLineFactory()
        ShelfSupplyFactory(line=line, tray=tray)
        ReceiptFactory(line=line)
    with django_assert_num_queries(3):
        assert len(consumable_facts()) == 20
    with django_assert_num_queries(4):
        assert len(tray_facts()) == 20


def test_the_demos_resin_is_short_by_145_grams(demo: Shop, now: datetime) -> None:
    """Check value 10 of the demo."""
    (resin,) = [one for one in shelf_stands(take(now)) if one.thing.id == "C01"]
    assert (resin.wanted_milli, resin.thing.left_milli) == (555_000, 410_000)
    assert resin.short_milli == 145_000
