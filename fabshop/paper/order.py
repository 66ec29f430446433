"""The receiving slip: for a helper without a phone to count a parcel by hand."""

from __future__ import annotations

from django.shortcuts import get_object_or_404

from fabshop import words
from fabshop.actions.drawing.check import said_of_check
from fabshop.clock import now
from fabshop.paper.sheet import Sheet, entries_so_far
from fabshop.reckoning.arrivals import arrivals
from fabshop.reckoning.facts import Facts, LineFact
from fabshop.records.drawing import MeasuredCheck
from fabshop.records.order import Order, OrderLine
from fabshop.snapshot import order_facts, plan_clock, take
from fabshop.units import show_moment, show_quantity


def receiving_slip(code: str) -> Sheet:
    """What is expected of one order, with boxes to count into, per hand."""
    order = get_object_or_404(
        Order.objects.select_related("supplier", "build").prefetch_related(
            "lines__component"
        ),
        code=code,
    )
    moment = now()
    clock = plan_clock(moment)
    (fact,) = order_facts([order], clock)
    lines = {line.id: line for line in fact.lines}
    return Sheet(
        name="receiving",
        title="Receiving slip",
        template="paper/order/receiving.html",
        path=f"/orders/{order.code}/goods-in/",
        code=f"GOODS IN {order.code}",
        filename=f"receiving-{order.code}",
        subject=order.code,
        made_at=moment,
        offset_minutes=clock.offset_minutes,
        entries=entries_so_far(),
        context={
            "order": order,
            "kind": words.OrderKind(order.kind).label,
            "expected": _expected(lines, take(moment)),
            "sent_revision": fact.sent_revision,
            "lines": [_line(order, line, lines) for line in order.lines.all()],
            "whys": [why.label for why in words.WrongWhy],
            "checks": _checks(order),
        },
    )


def _checks(order: Order) -> list[tuple[str, str]]:
    """What was measured of it, each with what a person made of it."""
    checks = MeasuredCheck.objects.filter(line__order=order)
    told = []
    for check in checks.select_related("line__order").prefetch_related("decisions"):
        last = list(check.decisions.all())[-1:]
        told.append(
            (
                f"{check.line.title}: {said_of_check(check)}",
                words.CheckDecision(last[0].how).label if last else "not decided",
            )
        )
    return told


def _expected(lines: dict[str, LineFact], facts: Facts) -> str:
    """When the next of it comes, in a sentence; "" where nothing is owed."""
    owed = [line for line in lines.values() if line.owed_milli]
    if not owed:
        return ""
    coming = arrivals(facts)
    known = [coming[line.id] for line in owed if line.id in coming]
    days = [arrival.likely_at for arrival in known if arrival.likely_at]
    if not days:
        return "Expected, nobody knows when."
    late = [arrival.late_at for arrival in known if arrival.late_at]
    said = f"Expected {show_moment(min(days))}"
    if late and max(late) > min(days):
        said += f", late {show_moment(max(late))}"
    return f"{said}."


def _line(
    order: Order, line: OrderLine, facts: dict[str, LineFact]
) -> dict[str, str | int]:
    unit = words.Unit(line.unit)
    return {
        "number": line.number,
        "title": line.title,
        "hand": words.Side(line.hand).label,
        "for": str(line.component) if line.component else "",
        "ordered": show_quantity(line.quantity_milli, unit),
        "expected": show_quantity(
            facts[f"{order.code}/{line.number}"].owed_milli, unit
        ),
    }
