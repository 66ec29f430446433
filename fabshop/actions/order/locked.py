"""An order while it is acted on: locked, as it was read, and found again."""

from __future__ import annotations

from fabshop.errors import Clash
from fabshop.records.log import LogEntry
from fabshop.records.order import Order


def order_of(entry: LogEntry) -> Order:
    """The first answer of actions that answer with their order."""
    if entry.order is None:
        raise Clash("This id was already used for something else.", field="client_id")
    return entry.order


def locked_order(order: Order) -> Order:
    return Order.objects.select_for_update(no_key=True).get(pk=order.pk)


def refuse_moved(order: Order, version: int) -> None:
    if order.version != version:
        raise Clash(
            f"{order} has changed since you read it. Look at it again; what you "
            "typed is kept.",
            code="has-moved",
        )
