"""Orders and their lines as facts: what was promised, what came, what is owed."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date

from django.db.models import Q

from fabshop import words
from fabshop.reckoning.facts import LineFact, OrderFact, PromiseFact
from fabshop.records.build import Build
from fabshop.records.order import (
    Order,
    OrderLine,
    Promise,
    Receipt,
    Sending,
    Settlement,
)
from fabshop.records.task import Need
from fabshop.snapshot.clock import Clock

_FINISHED = (words.TaskState.DONE, words.TaskState.ACCEPTED)


@dataclass
class _Came:
    """What the receipts and settlements of one line add up to."""

    accepted: int = 0
    wrong: int = 0
    written_off: int = 0
    in_the_box: bool = False
    came_on: date | None = None
    rest_from: date | None = None
    reordered: list[tuple[str, int]] = field(default_factory=list)


def live_orders(builds: list[Build], lines: list[int]) -> list[Order]:
    """The orders still under way or of these builds, and those of the lines needed.

    With them come the orders that make good what was written off on such a line.
    """
    making_good = OrderLine.objects.filter(makes_good__line_id__in=lines)
    needed = OrderLine.objects.filter(pk__in=lines)
    under_way = Q(given_up_at=None) & ~Q(move=words.Move.DONE)
    return list(
        Order.objects.filter(
            under_way
            | Q(build_id__in=[build.pk for build in builds])
            | Q(pk__in=needed.values("order_id"))
            | Q(pk__in=making_good.values("order_id"))
        ).select_related("supplier", "build", "sent_with")
    )


def order_facts(orders: Iterable[Order], clock: Clock) -> tuple[OrderFact, ...]:
    """Any orders as facts, in a fixed number of queries; also those long booked in."""
    orders = list(orders)
    ids = [order.pk for order in orders]
    lines: dict[int, list[LineFact]] = defaultdict(list)
    came = _came(ids, clock)
    rows = list(
        OrderLine.objects.filter(order_id__in=ids).select_related("order", "component")
    )
    taken = _taken([row.pk for row in rows])
    for row in rows:
        lines[row.order_id].append(
            _line_fact(row, came.get(row.pk, _Came()), taken.get(row.pk, 0))
        )
    promises = _promises(ids, clock)
    sent = _sent_revisions(ids)
    return tuple(
        OrderFact(
            id=order.code,
            title=order.title,
            supplier=order.supplier.name,
            kind=words.OrderKind(order.kind),
            move=words.Move(order.move),
            build=order.build.slug if order.build else "",
            sent_on=order.sent_on,
            lead_early_days=order.lead_early_days,
            lead_likely_days=order.lead_likely_days,
            lead_late_days=order.lead_late_days,
            file_name=order.file_name,
            file_revision=order.file_revision,
            sent_revision=sent.get(order.pk, ""),
            given_up=order.given_up_at is not None,
            sent_with=order.sent_with.code if order.sent_with else "",
            made_on=clock.day_of(order.made_at),
            promises=tuple(promises.get(order.pk, ())),
            lines=tuple(lines.get(order.pk, ())),
        )
        for order in orders
    )


def _line_fact(row: OrderLine, came: _Came, taken: int) -> LineFact:
    return LineFact(
        id=f"{row.order.code}/{row.number}",
        order=row.order.code,
        title=row.title,
        hand=words.Hand(row.hand),
        unit=words.Unit(row.unit),
        quantity_milli=row.quantity_milli,
        accepted_milli=max(0, came.accepted),
        wrong_milli=max(0, came.wrong),
        written_off_milli=came.written_off,
        in_the_box=came.in_the_box,
        component=row.component.code if row.component else "",
        reordered=tuple(came.reordered),
        taken_milli=taken,
        came_on=came.came_on,
        rest_from=came.rest_from,
    )


def _came(order_ids: list[int], clock: Clock) -> dict[int, _Came]:
    found: dict[int, _Came] = defaultdict(_Came)
    receipts = Receipt.objects.filter(line__order_id__in=order_ids)
    for receipt in receipts.order_by("at", "pk"):
        came = found[receipt.line_id]
        came.accepted += receipt.sign * receipt.accepted_milli
        came.wrong += receipt.sign * receipt.wrong_milli
        # The last look tells: a box left shut stays so until somebody counts.
        came.in_the_box = receipt.kind == words.ReceiptKind.IN_THE_BOX
        if receipt.kind == words.ReceiptKind.COUNTED:
            came.came_on = clock.day_of(receipt.at)
    settlements = Settlement.objects.filter(
        line__order_id__in=order_ids, is_taken_back=False
    ).select_related("reordered_on__order")
    for settlement in settlements.order_by("at", "pk"):
        came = found[settlement.line_id]
        if settlement.how == words.Settled.COMING:
            came.rest_from = clock.day_of(settlement.at)
            continue
        came.written_off += settlement.quantity_milli
        if other := settlement.reordered_on:
            name = f"{other.order.code}/{other.number}"
            came.reordered.append((name, settlement.quantity_milli))
    return found


def _taken(line_ids: list[int]) -> dict[int, int]:
    """What finished tasks have used of each line, where they said how much."""
    found: dict[int, int] = defaultdict(int)
    # Sorted out here: the database would begin with the finished tasks of years.
    rows = Need.objects.filter(line_id__in=line_ids, quantity_milli__isnull=False)
    for line, milli, state in rows.order_by().values_list(
        "line_id", "quantity_milli", "task__state"
    ):
        if line is not None and milli is not None and state in _FINISHED:
            found[line] += milli
    return found


def _promises(order_ids: list[int], clock: Clock) -> dict[int, list[PromiseFact]]:
    found: dict[int, list[PromiseFact]] = defaultdict(list)
    rows = Promise.objects.filter(order_id__in=order_ids).select_related("order")
    for row in rows.select_related("order", "line").order_by("at", "pk"):
        found[row.order_id].append(
            PromiseFact(
                line=f"{row.order.code}/{row.line.number}" if row.line else "",
                eta_on=row.eta_on,
                latest_on=row.latest_on,
                said=row.said,
                at=clock.to_plan(row.at),
            )
        )
    return found


def _sent_revisions(order_ids: list[int]) -> dict[int, str]:
    rows = Sending.objects.filter(order_id__in=order_ids, is_taken_back=False)
    return dict(rows.order_by("at", "pk").values_list("order_id", "revision"))
