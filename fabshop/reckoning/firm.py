"""A firm's own record: how many days after the promised one its orders arrived."""

from __future__ import annotations

from dataclasses import dataclass

from fabshop.reckoning.facts import Facts, OrderFact

# From so many finished orders on a firm is taken by its record.
BITES_FROM = 3
LATEST = 10


@dataclass(frozen=True)
class FirmRecord:
    """`worst_days` is what it was late by at the most, 0 where it never was."""

    supplier: str
    count: int
    worst_days: int

    @property
    def said(self) -> str:
        days = f"{self.worst_days} day{'s' * (self.worst_days != 1)}"
        return f"by their record: up to {days} late in {self.count} orders"


def firm_record(facts: Facts, supplier: str) -> FirmRecord | None:
    """The record of a firm over its latest ten finished orders; None under three.

    What counts is the day first promised against the day the last of it was counted.
    """
    slips = sorted(
        (slip for slip in facts.slips if slip.supplier == supplier),
        key=lambda slip: (slip.arrived_on, slip.order),
    )[-LATEST:]
    if len(slips) < BITES_FROM:
        return None
    worst = max((slip.arrived_on - slip.promised_on).days for slip in slips)
    return FirmRecord(supplier, len(slips), max(0, worst))


def late_lead_days(facts: Facts, order: OrderFact) -> int | None:
    """Days from sending to late arrival: by the firm's record, else as typed."""
    record = firm_record(facts, order.supplier)
    if record is None or order.lead_likely_days is None:
        return order.lead_late_days
    return order.lead_likely_days + record.worst_days
