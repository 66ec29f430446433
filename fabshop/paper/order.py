"""The receiving slip: for a helper without a phone to count a parcel by hand."""

from __future__ import annotations

from typing import Any

from django.shortcuts import get_object_or_404

from fabshop import words
from fabshop.clock import now
from fabshop.paper.sheet import Sheet, entries_so_far
from fabshop.records.order import Order, OrderLine
from fabshop.snapshot import order_facts, plan_clock
from fabshop.units import show_day, show_quantity


def receiving_slip(code: str) -> Sheet:
    """What is expected of one order, with boxes to count into, per hand."""
    order = get_object_or_404(
        Order.objects.select_related("supplier", "build").prefetch_related(
            "lines__component", "promises"
        ),
        code=code,
    )
    moment = now()
    lines = {line.id: line for line in order_facts(order).lines}
    promise = order.promises.last()
    return Sheet(
        name="receiving",
        title="Receiving slip",
        template="paper/order/receiving.html",
        path=f"/orders/{order.code}/goods-in/",
        code=f"GOODS IN {order.code}",
        filename=f"receiving-{order.code}",
        subject=f"{order.code} {order.title}",
        made_at=moment,
        offset_minutes=plan_clock(moment).offset_minutes,
        entries=entries_so_far(),
        context={
            "order": order,
            "kind": words.OrderKind(order.kind).label,
            "expected_on": show_day(promise.eta_on)
            if promise and promise.eta_on
            else "",
            "lines": [_line(order, line, lines) for line in order.lines.all()],
            "why": [why.label for why in words.WrongWhy],
        },
    )


def _line(order: Order, line: OrderLine, facts: dict[str, Any]) -> dict[str, str]:
    fact = facts[f"{order.code}/{line.number}"]
    unit = words.Unit(line.unit)
    return {
        "number": str(line.number),
        "title": line.title,
        "hand": words.Hand(line.hand).label if line.hand else "",
        "for": line.component.code if line.component else "",
        "ordered": show_quantity(line.quantity_milli, unit),
        "expected": show_quantity(fact.owed_milli, unit),
    }
