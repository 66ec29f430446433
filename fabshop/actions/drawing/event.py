"""What may land after pack-out goes to the event instead, or is given up."""

from __future__ import annotations

from datetime import datetime

from fabshop import words
from fabshop.actions.log.entry import once, write_entry
from fabshop.actions.moved import Before, move
from fabshop.actions.order.locked import locked_order, order_of
from fabshop.actions.shop import require
from fabshop.errors import Clash
from fabshop.records.order import Order
from fabshop.records.shop import Person


@once(words.EntryKind.CHANGED, first=order_of)
def send_to_event(
    *,
    by: Person,
    order: Order,
    now: datetime,
    back: bool = False,
    at: datetime | None = None,
    client_id: str | None = None,
) -> Order:
    """Say that an order goes to the event's address; `back` takes that back.

    Whether it reaches us there nobody promised: it is never counted as a spare.
    """
    require(by, "own")
    order = locked_order(order)
    if order.given_up_at is not None:
        raise Clash(f"{order} was given up.", code="is-given-up")
    if order.to_event != back:
        where = "the shop" if back else "the event"
        raise Clash(f"{order.code} goes to {where} already.", code="is-said")
    before: Before = {}
    move(order, before, to_event=not back)
    write_entry(
        kind=words.EntryKind.CHANGED,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        order=order,
        text="Goes to the shop after all" if back else "Goes to the event's address",
        before=before,
    )
    return order
