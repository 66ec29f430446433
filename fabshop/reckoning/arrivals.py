"""When what is owed comes: likely and late, and on what that rests."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from fabshop import words
from fabshop.reckoning.facts import Facts, LineFact, OrderFact, PromiseFact
from fabshop.reckoning.firm import firm_record, late_lead_days
from fabshop.units import show_day

# Past a year without a delivery day nobody can say when a parcel comes.
_DAYS_LOOKED_AT = 366


@dataclass(frozen=True)
class Arrival:
    """One line that is still owed; a moment that nobody knows is None.

    `likely_at`, `late_at`, `early_at` are moments from which it counts as here.
    `eta_on` is the firm's current word, `said` its words where it names no day;
    `days_late` the days from the first promise to the day that now holds. `unsent`:
    nothing was sent yet, so it is reckoned as if sent on `as_if_sent_on`.
    `late_basis` says whether late is the firm's word, its record or as typed.
    """

    line: str
    order: str
    likely_at: datetime | None
    late_at: datetime | None
    early_at: datetime | None
    first_on: date | None
    eta_on: date | None
    days_late: int
    unsent: bool
    as_if_sent_on: date | None
    overdue: bool
    basis: str
    said: str
    late_basis: str = ""


def arrivals(facts: Facts) -> dict[str, Arrival]:
    """Every line that is still owed, by its id; lines of given-up orders never come.

    Likely is the firm's current word, late its latest, else by its own record from
    three finished orders on, else by the late lead as typed.
    Not sent yet: as if sent today. A parcel whose day has passed comes with the next
    delivery at the earliest; one that stands here in its box is here.
    """
    return {
        line.id: _arrival(facts, order, line)
        for order in facts.orders
        if not order.given_up
        for line in order.lines
        if line.owed_milli
    }


def order_stand(order: OrderFact, facts: Facts) -> words.OrderStand:
    """Where an order stands, the word that asks most of the owner first."""
    owed = [line for line in order.lines if line.owed_milli]
    if order.given_up:
        return words.OrderStand.GIVEN_UP
    if any(line.in_the_box for line in order.lines):
        return words.OrderStand.IN_THE_BOX
    if not owed:
        return words.OrderStand.BOOKED_IN
    if any(line.wrong_milli for line in owed):
        return words.OrderStand.NOT_AS_DRAWN
    if any(line.accepted_milli for line in order.lines):
        return words.OrderStand.SHORT
    if order.sent_on is None:
        return words.OrderStand.NOT_SENT
    coming = [_arrival(facts, order, line) for line in owed]
    if any(arrival.overdue for arrival in coming):
        return words.OrderStand.OWED
    if any(arrival.days_late > 0 for arrival in coming):
        return words.OrderStand.SLIPPED
    return words.OrderStand.SENT


def last_sure_day(order: OrderFact, need_by: datetime, facts: Facts) -> date | None:
    """The last day to send so that it is here by `need_by` even with the late lead."""
    return _last_day(late_lead_days(facts, order), need_by, facts)


def likely_day(order: OrderFact, need_by: datetime, facts: Facts) -> date | None:
    """The last day to send so that it is here by `need_by` with the likely lead."""
    return _last_day(order.lead_likely_days, need_by, facts)


def delivered_at(facts: Facts, on: date) -> datetime | None:
    """The moment from which a parcel of that day counts as here.

    On a day without deliveries it comes on the next day that has them.
    """
    for days in range(_DAYS_LOOKED_AT):
        day = on + timedelta(days=days)
        if not facts.is_without_delivery(day):
            return facts.moment_on(day, facts.delivery_minute)
    return None


def last_delivery(facts: Facts, before: datetime) -> datetime | None:
    """The last moment, up to `before`, at which a day's parcels are here."""
    for days in range(_DAYS_LOOKED_AT):
        here_at = delivered_at(facts, before.date() - timedelta(days=days))
        if here_at is not None and here_at <= before:
            return here_at
    return None


def _last_day(lead_days: int | None, need_by: datetime, facts: Facts) -> date | None:
    if lead_days is None:
        return None
    for days in range(_DAYS_LOOKED_AT):
        day = need_by.date() - timedelta(days=days)
        here_at = delivered_at(facts, day)
        if here_at is not None and here_at <= need_by:
            return day - timedelta(days=lead_days)
    return None


def _arrival(facts: Facts, order: OrderFact, line: LineFact) -> Arrival:
    promises = [p for p in order.promises if p.line in ("", line.id)]
    first_on = next((p.eta_on for p in promises if p.eta_on), None)
    current = _current(promises, line)
    sent_on = _counts_from(facts, order, line)
    days, basis = _days(facts, order, line, current, sent_on)
    early_at, likely_at, late_at = (_here_from(facts, on) for on in days)
    if line.in_the_box:
        early_at = likely_at = late_at = facts.now
    due_at = days[1] and delivered_at(facts, days[1])
    overdue = bool(due_at and due_at <= facts.now and not line.in_the_box)
    if overdue and due_at and likely_at:
        basis = f"due {show_day(due_at)}, not here; taken as {show_day(likely_at)}"
    elif days[1] and due_at and facts.is_without_delivery(days[1]):
        basis += f"; no deliveries on {show_day(days[1])}"
    holds_on = likely_at.date() if overdue and likely_at else days[1]
    return Arrival(
        line=line.id,
        order=order.id,
        likely_at=likely_at,
        late_at=max(likely_at, late_at) if likely_at and late_at else late_at,
        early_at=early_at,
        first_on=first_on,
        eta_on=current.eta_on if current else None,
        days_late=(holds_on - first_on).days if holds_on and first_on else 0,
        unsent=order.sent_on is None,
        as_if_sent_on=facts.now.date() if order.sent_on is None else None,
        overdue=overdue,
        basis=basis,
        said=current.said if current else "",
        late_basis=_late_basis(facts, order, line, current),
    )


def _current(promises: list[PromiseFact], line: LineFact) -> PromiseFact | None:
    """The last word given, unless pieces have come since and others have not."""
    if not promises:
        return None
    if line.came_on and promises[-1].at.date() < line.came_on:
        return None
    return promises[-1]


def _counts_from(facts: Facts, order: OrderFact, line: LineFact) -> date | None:
    """The day from which the lead days count; None where nobody has said."""
    if line.came_on or line.wrong_milli or line.accepted_milli:
        return line.rest_from
    return order.sent_on or facts.now.date()


def _days(
    facts: Facts,
    order: OrderFact,
    line: LineFact,
    current: PromiseFact | None,
    sent_on: date | None,
) -> tuple[tuple[date | None, date | None, date | None], str]:
    """Early, likely and late day, with the sentence that they rest on."""
    early_on = _plus(sent_on, order.lead_early_days)
    likely_on = _plus(sent_on, order.lead_likely_days)
    late_on = _plus(sent_on, late_lead_days(facts, order))
    if line.in_the_box:
        today = facts.now.date()
        return (today, today, today), "here, still in the box"
    if current and current.eta_on:
        record = firm_record(facts, order.supplier)
        by_record = _plus(current.eta_on, record.worst_days) if record else None
        last_on = current.latest_on or by_record or late_on or current.eta_on
        days = (current.eta_on, current.eta_on, max(last_on, current.eta_on))
        return days, f"they say {show_day(current.eta_on)}"
    if current:
        # No day was named: only the late lead is left to go by.
        basis = f"they say “{current.said}”"
        return (late_on, late_on, late_on), (
            f"{basis}; reckoned with the late lead" if late_on else f"{basis}; no day"
        )
    if sent_on is None:
        return (None, None, None), "nobody has said when the rest comes"
    if late_on is None and likely_on is None:
        return (None, None, None), "no lead days and no word: unknown"
    likely_on = likely_on or late_on
    if order.sent_on is None:
        basis = "not sent; as if sent today"
    else:
        basis = f"no word; lead days from {show_day(sent_on)}"
    return (early_on or likely_on, likely_on, late_on or likely_on), basis


def _late_basis(
    facts: Facts, order: OrderFact, line: LineFact, current: PromiseFact | None
) -> str:
    """On what the late day rests; "" where there is none to speak of."""
    if line.in_the_box:
        return ""
    if current and current.eta_on and current.latest_on:
        return "their own latest"
    record = firm_record(facts, order.supplier)
    if record and (current and current.eta_on or order.lead_likely_days is not None):
        return record.said
    return "by the late lead as typed" if order.lead_late_days is not None else ""


def _plus(on: date | None, days: int | None) -> date | None:
    return None if on is None or days is None else on + timedelta(days=days)


def _here_from(facts: Facts, on: date | None) -> datetime | None:
    """As `delivered_at`, but what has not come yet comes no sooner than from now."""
    if on is None:
        return None
    here_at = delivered_at(facts, on)
    if here_at is not None and here_at <= facts.now:
        here_at = delivered_at(facts, facts.now.date())
        if here_at is not None and here_at <= facts.now:
            here_at = delivered_at(facts, facts.now.date() + timedelta(days=1))
    return here_at
