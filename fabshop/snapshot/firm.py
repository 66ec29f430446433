"""How firms kept their days: what they finished in two years, promised and here."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, timedelta

from django.db.models import DateTimeField, Max, OuterRef, Q, Subquery

from fabshop import words
from fabshop.reckoning.facts import SlipFact
from fabshop.records.order import Order, Promise
from fabshop.snapshot.clock import Clock

# Older than that it says little of the firm, and the pages would grow with the years.
DAYS_BACK = 730


def firm_slips(
    orders: Iterable[Order], clock: Clock, today: date
) -> tuple[SlipFact, ...]:
    """What the firms of these orders finished before, in one query."""
    firms = {order.supplier_id for order in orders}
    first = Promise.objects.filter(
        order=OuterRef("pk"), line=None, eta_on__isnull=False
    ).order_by("at", "pk")
    counted = Q(lines__receipts__kind=words.ReceiptKind.COUNTED)
    since = today - timedelta(days=DAYS_BACK)
    rows = (
        Order.objects.filter(
            supplier_id__in=firms,
            move=words.Move.DONE,
            given_up_at=None,
            sent_on__gte=since,
        )
        .order_by("pk")
        .annotate(
            promised_on=Subquery(first.values("eta_on")[:1]),
            here_at=Max(
                "lines__receipts__at", filter=counted, output_field=DateTimeField()
            ),
        )
        .values_list("supplier__name", "code", "promised_on", "here_at")
    )
    return tuple(
        SlipFact(supplier, code, promised_on, clock.day_of(here_at))
        for supplier, code, promised_on, here_at in rows
        if promised_on is not None and here_at is not None
    )
