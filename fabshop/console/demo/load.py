"""Loads the demo shop into an empty one, its first morning moved to today."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

from django.db import transaction
from django.db.models import Model

from fabshop.console.demo.anchor import Anchor, table
from fabshop.console.demo.telling import Telling
from fabshop.errors import Clash
from fabshop.records.build import Build, Component
from fabshop.records.order import Order
from fabshop.records.shop import Person, Shop
from fabshop.records.task import Task

# What a shop can hold before anything else can be in it.
HELD: tuple[type[Model], ...] = (Shop, Person, Build, Component, Task, Order)


def load_demo(*, now: datetime, as_of: date | None = None) -> Shop:
    """Load the demo shop, its Friday morning moved to the day of `now` or `as_of`.

    Refuses a shop that holds anything.
    """
    refuse_what_is_held()
    told = table("shop")
    zone = ZoneInfo(told["zone"])
    today = as_of or now.astimezone(zone).date()
    written = datetime.fromisoformat(told["as_of"]).date()
    anchor = Anchor(zone, shift=today - written)
    with transaction.atomic():
        return Telling(told, anchor).tell()


def refuse_what_is_held() -> None:
    held = []
    for kind in HELD:
        if count := kind._default_manager.count():
            names = (kind._meta.verbose_name, kind._meta.verbose_name_plural)
            held.append(f"{count} {names[count > 1]}")
    if held:
        raise Clash(
            f"This shop holds something already: {', '.join(held)}. The demo goes into "
            "an empty one only. For the demo beside it set FABSHOP_DATA to another "
            "folder."
        )
