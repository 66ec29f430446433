"""From three finished orders on a firm is taken by its own record."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta

from fabshop import words
from fabshop.reckoning.arrivals import arrivals, last_sure_day
from fabshop.reckoning.facts import (
    Facts,
    LineFact,
    OrderFact,
    PromiseFact,
    SlipFact,
)
from fabshop.reckoning.firm import LATEST, firm_record, late_lead_days

NOW = datetime(2027, 9, 3, 6, 45)
ORDER = OrderFact(
    id="P9",
    title="Plates",
    supplier="Firm",
    kind=words.OrderKind.CUT,
    move=words.Move.FIRM,
    sent_on=date(2027, 9, 1),
    lead_early_days=2,
    lead_likely_days=5,
    lead_late_days=6,
    lines=(
        LineFact(
            "P9/1",
            "P9",
            "Plate",
            words.Hand.NONE,
            words.Unit.PIECE,
            quantity_milli=1000,
        ),
    ),
)


def slips(*days: int, supplier: str = "Firm") -> tuple[SlipFact, ...]:
    on = date(2027, 3, 1)
    return tuple(
        SlipFact(supplier, f"O{n:02}", on, on + timedelta(days=late))
        for n, late in enumerate(days)
    )


def shop(*days: int, order: OrderFact = ORDER) -> Facts:
    return Facts(now=NOW, orders=(order,), slips=slips(*days))


def test_two_finished_orders_say_nothing_yet() -> None:
    facts = shop(4, 9)
    assert firm_record(facts, "Firm") is None
    arrival = arrivals(facts)["P9/1"]
    assert arrival.late_at == datetime(2027, 9, 7, 18)
    assert arrival.late_basis == "by the late lead as typed"


def test_the_third_makes_the_worst_of_them_the_late_day() -> None:
    facts = shop(4, -1, 9)
    arrival = arrivals(facts)["P9/1"]
    assert arrival.likely_at == datetime(2027, 9, 6, 18)
    assert arrival.late_at == datetime(2027, 9, 15, 18)
    assert arrival.late_basis == "by their record: up to 9 days late in 3 orders"


def test_a_firm_that_was_never_late_is_late_by_nothing() -> None:
    record = firm_record(shop(-2, 0, -1), "Firm")
    assert record is not None
    assert record.worst_days == 0
    assert late_lead_days(shop(-2, 0, -1), ORDER) == 5


def test_what_the_firm_says_itself_stands_over_its_record() -> None:
    said = PromiseFact("", date(2027, 9, 8), date(2027, 9, 10), "", NOW)
    facts = shop(4, 4, 9, order=replace(ORDER, promises=(said,)))
    arrival = arrivals(facts)["P9/1"]
    assert arrival.late_at == datetime(2027, 9, 10, 18)
    assert arrival.late_basis == "their own latest"


def test_a_day_without_a_latest_is_made_late_by_the_record() -> None:
    said = PromiseFact("", date(2027, 9, 8), None, "", NOW)
    facts = shop(1, 2, 3, order=replace(ORDER, promises=(said,)))
    assert arrivals(facts)["P9/1"].late_at == datetime(2027, 9, 11, 18)


def test_the_last_sure_day_to_send_goes_by_the_record_too() -> None:
    unsent = replace(ORDER, sent_on=None)
    by = datetime(2027, 9, 20, 18)
    assert last_sure_day(unsent, by, shop(0, 0, order=unsent)) == date(2027, 9, 14)
    assert last_sure_day(unsent, by, shop(0, 0, 7, order=unsent)) == date(2027, 9, 8)


def test_only_the_latest_ten_count_and_only_of_this_firm() -> None:
    old_and_bad = SlipFact("Firm", "A", date(2026, 1, 1), date(2026, 3, 1))
    facts = Facts(
        now=NOW,
        slips=(
            old_and_bad,
            *slips(*[1] * LATEST),
            *slips(30, 30, 30, supplier="Other"),
        ),
    )
    record = firm_record(facts, "Firm")
    assert record is not None
    assert (record.count, record.worst_days) == (10, 1)
