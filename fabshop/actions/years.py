"""Fills a shop with years of closed work, to see that its pages stay quick."""

from __future__ import annotations

from datetime import datetime, timedelta
from uuid import uuid4

from django.db import transaction

from fabshop import words
from fabshop.actions.shop import require
from fabshop.records.build import Build, Component
from fabshop.records.log import LogEntry
from fabshop.records.order import Order, OrderLine, Receipt, Supplier
from fabshop.records.shop import Person
from fabshop.records.task import Estimate, Stage, Task

BUILDS = 20


@transaction.atomic
def add_closed_years(
    *,
    by: Person,
    now: datetime,
    components: int = 20_000,
    tasks: int = 5_000,
    entries: int = 50_000,
    lines: int = 10_000,
) -> None:
    """Add closed builds with finished tasks, booked-in orders and their log.

    Made in bulk and of invented, even stuff: for measuring only.
    """
    require(by, "own")
    builds = Build.objects.bulk_create(
        Build(
            slug=f"closed-{number}",
            letter=f"Z{number}",
            name=f"Closed {number}",
            state=words.BuildState.CLOSED,
            made_at=now - timedelta(days=3650),
        )
        for number in range(BUILDS)
    )
    Component.objects.bulk_create(
        Component(build=builds[n % BUILDS], code=f"Z{n}", name=f"Part {n}")
        for n in range(components)
    )
    done = Task.objects.bulk_create(
        Task(
            build=builds[n % BUILDS],
            code=f"ZW{n}",
            title=f"Task {n}",
            state=words.TaskState.DONE,
            done_at=now - timedelta(days=3650 - n % 3600),
        )
        for n in range(tasks)
    )
    Stage.objects.bulk_create(
        Stage(task=task, number=1, kind=words.StageKind.HANDS_ON, minutes=60)
        for task in done
    )
    Estimate.objects.bulk_create(
        Estimate(task=task, minutes=60, person=by, made_at=now) for task in done
    )
    LogEntry.objects.bulk_create(
        LogEntry(
            client_id=str(uuid4()),
            kind=words.EntryKind.STOP,
            person=by,
            build_id=done[n % tasks].build_id,
            task=done[n % tasks],
            minutes=60,
            at=now - timedelta(minutes=100 * (n + 1)),
            server_at=now - timedelta(minutes=100 * (n + 1)),
        )
        for n in range(entries)
    )
    firm = Supplier.objects.create(code="closed-firm", name="Closed firm")
    orders = Order.objects.bulk_create(
        Order(
            code=f"ZP{n}",
            supplier=firm,
            title=f"Order {n}",
            kind=words.OrderKind.BOUGHT,
            move=words.Move.DONE,
            made_at=now,
        )
        for n in range(max(1, lines // 4))
    )
    booked = OrderLine.objects.bulk_create(
        OrderLine(
            order=orders[n % len(orders)],
            number=n // len(orders) + 1,
            title=f"Line {n}",
            quantity_milli=1000,
        )
        for n in range(lines)
    )
    Receipt.objects.bulk_create(
        Receipt(
            line=line,
            kind=words.ReceiptKind.COUNTED,
            counted_milli=1000,
            accepted_milli=1000,
            parcel=f"closed-{line.order_id}",
            person=by,
            at=now,
            client_id=str(uuid4()),
        )
        for line in booked
    )
