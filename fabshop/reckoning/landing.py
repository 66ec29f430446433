"""What may land after pack-out: said at ordering, and until it is here."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from fabshop.reckoning.arrivals import arrivals, delivered_at
from fabshop.reckoning.facts import Facts, OrderFact
from fabshop.reckoning.firm import late_lead_days
from fabshop.units import show_moment


@dataclass(frozen=True)
class Landing:
    """An order whose late moment is after pack-out; `likely` where even that is."""

    order: str
    late_at: datetime
    pack_out: datetime
    likely: bool

    @property
    def said(self) -> str:
        how = "lands" if self.likely else "may land"
        return (
            f"It {how} after pack-out: late {show_moment(self.late_at)}, packed "
            f"{show_moment(self.pack_out)}."
        )


def lands_after_pack_out(facts: Facts, order: OrderFact) -> Landing | None:
    """Whether what is owed of an order may come too late to be packed."""
    pack_out = _pack_out(facts, order)
    coming = arrivals(facts)
    known = [coming[line.id] for line in order.lines if line.id in coming]
    late = [one.late_at for one in known if one.late_at]
    likely = [one.likely_at for one in known if one.likely_at]
    if pack_out is None or not late or max(late) <= pack_out:
        return None
    late_even_so = bool(likely) and max(likely) > pack_out
    return Landing(order.id, max(late), pack_out, late_even_so)


def ordered_on(facts: Facts, order: OrderFact, on: date) -> Landing | None:
    """The same of an order that is about to be sent on a day."""
    days, pack_out = late_lead_days(facts, order), _pack_out(facts, order)
    if days is None or pack_out is None:
        return None
    late_at = delivered_at(facts, on + timedelta(days=days))
    if late_at is None or late_at <= pack_out:
        return None
    likely_at = delivered_at(facts, on + timedelta(days=order.lead_likely_days or days))
    return Landing(
        order.id, late_at, pack_out, likely_at is not None and likely_at > pack_out
    )


def _pack_out(facts: Facts, order: OrderFact) -> datetime | None:
    """When its build is packed; an order of no build serves whichever is first."""
    builds = [one for one in facts.builds if order.build in ("", one.id)]
    moments = [one.pack_out for one in builds if one.pack_out]
    return min(moments) if moments else None
