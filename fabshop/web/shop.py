"""An empty shop's first walk: its zone, its hours, its first build."""

from __future__ import annotations

from datetime import datetime, timedelta
from zoneinfo import available_timezones

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone
from django.utils.text import slugify

from fabshop import clock
from fabshop.actions.build import add_build
from fabshop.actions.shop import make_shop
from fabshop.errors import ShopError
from fabshop.records.build import Build
from fabshop.records.shop import Window
from fabshop.web.gate import for_owner
from fabshop.web.hours import WEEKDAYS, minute_of_day, set_week
from fabshop.web.respond import refused, respond
from fabshop.web.tap import said
from fabshop.web.typed import Typed

STEPS = ("zone", "hours", "build")


@for_owner
def setup(request: HttpRequest) -> HttpResponse:
    step = _step(request)
    if step == "":
        return redirect("now")
    context = {
        "now": clock.now(),
        "number": STEPS.index(step) + 1,
        "zones": [(zone, zone.replace("_", " ")) for zone in _zones()],
        "weekdays": [(name.lower(), name) for name in WEEKDAYS],
        "next": reverse("setup") + "?step=build" if step == "hours" else reverse("now"),
    }
    page = f"shop/setup_{step}.html"
    if request.method != "POST":
        return respond(request, page, "", context)
    try:
        {"zone": _set_zone, "hours": set_week, "build": _first_build}[step](request)
    except ShopError as error:
        return refused(request, error, page, "", context)
    return redirect("setup")


def _step(request: HttpRequest) -> str:
    """The first question that is not answered yet, or the one asked for."""
    if request.shop is None:
        return "zone"
    asked = request.GET.get("step", "")
    if asked != "build" and not Window.objects.exists():
        return "hours"
    return "" if Build.objects.exists() else "build"


def _set_zone(request: HttpRequest) -> None:
    make_shop(
        name=request.POST.get("name", ""),
        zone=request.POST.get("zone", ""),
        now=clock.now(),
    )


def _first_build(request: HttpRequest) -> None:
    typed = Typed(request)
    name = typed.needed("name", "Name", most=80)
    letter = typed.needed("letter", "Letter", most=4).upper()
    event_on = typed.day("event_on", "Event")
    pack_out_at = _pack_out(typed)
    typed.refuse_if_wrong()
    add_build(
        slug=_slug(name),
        letter=letter,
        name=name,
        event_name=typed.text("event_name", "Event", most=120),
        event_on=event_on,
        pack_out_at=pack_out_at,
        **said(request),
    )


def _pack_out(typed: Typed) -> datetime | None:
    """The moment the packing closes, in the shop's zone; at the end of a day alone."""
    on = typed.day("pack_out_on", "Packing closes")
    minute = minute_of_day(typed, "pack_out_time", "Packing closes at")
    if on is None:
        return None
    closes = datetime(on.year, on.month, on.day)
    closes += timedelta(minutes=24 * 60 if minute is None else minute)
    return timezone.make_aware(closes)


def _slug(name: str) -> str:
    return slugify(name)[:40] or "build"


def _zones() -> list[str]:
    """The zones that people live in: those with an area and a city."""
    areas = ("Africa", "America", "Asia", "Atlantic", "Australia", "Europe", "Indian")
    known = available_timezones()
    towns = sorted(zone for zone in known if zone.split("/")[0] in (*areas, "Pacific"))
    return [*towns, "UTC"]
