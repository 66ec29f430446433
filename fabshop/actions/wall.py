"""Moments as the shop's wall clock and calendar show them."""

from __future__ import annotations

from datetime import date, datetime
from zoneinfo import ZoneInfo

from fabshop.records.shop import Shop
from fabshop.units import show_day, show_moment


def zone() -> ZoneInfo:
    """The shop's zone; UTC before there is a shop."""
    name = Shop.objects.values_list("zone", flat=True).first()
    return ZoneInfo(name or "UTC")


def day(moment: datetime) -> date:
    """The day on the shop's calendar at `moment`."""
    return moment.astimezone(zone()).date()


def clock(moment: datetime, *, beside: datetime | None = None) -> str:
    """Say `moment` as 10:04, with its day where `beside` is on another."""
    here = zone()
    local = moment.astimezone(here)
    if beside is not None and beside.astimezone(here).date() == local.date():
        return f"{local:%H:%M}"
    return show_moment(local)


def date_words(on: date) -> str:
    """Say a day with its year: Thu 2 Sep 2027."""
    return f"{show_day(on)} {on.year}"
