"""The consumables and trays of the demo shop, told to the actions."""

from __future__ import annotations

from datetime import datetime

from fabshop.actions.shelf import add_consumable, add_tray, fill_from_line
from fabshop.console.demo.anchor import Anchor, table
from fabshop.records.order import OrderLine
from fabshop.records.shop import Person

_DAYS = ("opened_on", "use_by_on")


def tell_shelf(*, by: Person, at: datetime, anchor: Anchor) -> None:
    """Put what is used up and the screws on the shelf; two orders fill two trays."""
    told = table("shelf")
    for row in told["consumables"]:
        days = {name: anchor.day(row[name]) for name in _DAYS if name in row}
        add_consumable(by=by, now=at, **{**row, **days})
    trays = {row["code"]: add_tray(by=by, now=at, **row) for row in told["trays"]}
    for name, tray in told["fills"].items():
        order, number = name.split("/")
        line = OrderLine.objects.get(order__code=order, number=number)
        fill_from_line(by=by, line=line, thing=trays[tray], now=at)
