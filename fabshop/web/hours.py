"""Hours at the bench: what there is, a weekly pattern, and days that differ."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, timedelta
from itertools import groupby

from django.contrib import messages
from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_POST

from fabshop import clock
from fabshop.actions.shop import (
    add_window,
    remove_window,
    set_day,
    set_weekly_hours,
)
from fabshop.errors import ShopError
from fabshop.reckoning.hours import hours_summary
from fabshop.records.shop import Day, Person, Window
from fabshop.snapshot import take
from fabshop.web.gate import for_owner, signed_in
from fabshop.web.respond import refused, respond
from fabshop.web.tap import said
from fabshop.web.templatetags.shop import clock_time
from fabshop.web.typed import Typed

WEEKDAYS = (
    "Monday",
    "Tuesday",
    "Wednesday",
    "Thursday",
    "Friday",
    "Saturday",
    "Sunday",
)
WEEKS_SHOWN = 4
WEEKS_FILLED = 12


@dataclass
class DayShown:
    on: date
    day: Day | None = None
    windows: list[Window] = field(default_factory=list)


@signed_in
def hours(request: HttpRequest) -> HttpResponse:
    now = clock.now()
    today = timezone.localtime(now).date()
    from_on = _from_day(request) or today
    to_on = from_on + timedelta(weeks=WEEKS_SHOWN)
    facts = take(now)
    context = {
        "there_is": hours_summary(facts),
        "pack_out": max((b.pack_out for b in facts.builds if b.pack_out), default=None),
        "now": now,
        "today": today,
        "days": _days(from_on, to_on),
        "from_on": from_on,
        "earlier_on": from_on - timedelta(weeks=WEEKS_SHOWN),
        "later_on": to_on,
    }
    return respond(request, "shop/hours.html", "", context)


@for_owner
def hours_add(request: HttpRequest) -> HttpResponse:
    context = {
        "now": clock.now(),
        "people": [(p.pk, p.name) for p in _people()],
        "today": timezone.localtime(clock.now()).date(),
    }
    if request.method != "POST":
        return respond(request, "shop/hours_add.html", "", context)
    try:
        notice = _add(request)
    except ShopError as error:
        return refused(request, error, "shop/hours_add.html", "", context)
    if notice:
        messages.info(request, notice)
    return redirect("hours")


@for_owner
def hours_week(request: HttpRequest) -> HttpResponse:
    today = timezone.localtime(clock.now()).date()
    context = {
        "now": clock.now(),
        "people": [(p.pk, p.name) for p in _people()],
        "weekdays": [(name.lower(), name) for name in WEEKDAYS],
        "today": today,
        "until": today + timedelta(weeks=WEEKS_FILLED),
    }
    if request.method != "POST":
        return respond(request, "shop/hours_week.html", "", context)
    try:
        set_week(request)
    except ShopError as error:
        return refused(request, error, "shop/hours_week.html", "", context)
    return redirect("hours")


@for_owner
def hours_day(request: HttpRequest) -> HttpResponse:
    on = _from_day(request) or timezone.localtime(clock.now()).date()
    day = Day.objects.filter(on=on).first() or Day(on=on)
    context = {
        "now": clock.now(),
        "on": on,
        "day": day,
        "no_deliveries": not day.has_deliveries,
        "nothing_running": not day.may_run_machines,
        "quiet_until": clock_time(day.quiet_until_minute),
    }
    if request.method != "POST":
        return respond(request, "shop/hours_day.html", "", context)
    try:
        _set_day(request)
    except ShopError as error:
        return refused(request, error, "shop/hours_day.html", "", context)
    return redirect("hours")


@require_POST
@for_owner
def hours_remove(request: HttpRequest, pk: int) -> HttpResponse:
    window = get_object_or_404(Window.objects.select_related("person"), pk=pk)
    remove_window(window=window, **said(request))
    messages.info(request, "Taken out. Put them back if that was a slip.")
    return redirect("hours")


def set_week(request: HttpRequest) -> None:
    """Write the weekly pattern as it was typed on a form with seven days."""
    typed = Typed(request)
    today = timezone.localtime(clock.now()).date()
    from_on = typed.day("from_on", "From") or today
    to_on = typed.day("to_on", "Until") or today + timedelta(weeks=WEEKS_FILLED)
    pattern = {}
    for number, name in enumerate(WEEKDAYS):
        span = _span(typed, name.lower(), name)
        if span:
            pattern[number] = [span]
    typed.refuse_if_wrong()
    set_weekly_hours(
        person=_whose(request),
        pattern=pattern,
        from_on=from_on,
        to_on=to_on,
        **said(request),
    )


def _add(request: HttpRequest) -> str:
    typed = Typed(request)
    on = typed.day("on", "Day")
    from_minute = minute_of_day(typed, "from_minute", "From")
    to_minute = minute_of_day(typed, "to_minute", "To")
    for name, label, value in (
        ("on", "Day", on),
        ("from_minute", "From", from_minute),
        ("to_minute", "To", to_minute),
    ):
        if value is None and not any(e.field == name for e in typed.errors):
            typed.wrong(name, f"{label}: nothing is written. It is needed.")
    typed.refuse_if_wrong()
    _, notice = add_window(
        person=_whose(request),
        on=on,
        from_minute=from_minute,
        to_minute=to_minute,
        note=typed.raw("note"),
        **said(request),
    )
    return notice


def _set_day(request: HttpRequest) -> None:
    typed = Typed(request)
    on = typed.day("on", "Day")
    if on is None and not typed.errors:
        typed.wrong("on", "Day: nothing is written. It is needed.")
    quiet = minute_of_day(typed, "quiet_until_minute", "Quiet until")
    typed.refuse_if_wrong()
    set_day(
        on=on,
        is_off=typed.is_ticked("is_off"),
        has_deliveries=not typed.is_ticked("no_deliveries"),
        may_run_machines=not typed.is_ticked("nothing_running"),
        quiet_until_minute=quiet,
        note=typed.raw("note"),
        **said(request),
    )


def minute_of_day(typed: Typed, name: str, label: str) -> int | None:
    """Read `19:00`, `19.30` or `19` as a minute of the day; None if nothing is said."""
    seen = typed.raw(name)
    if not seen:
        return None
    found = re.fullmatch(r"(\d{1,2})(?:[:.h]([0-5]\d))?", seen)
    if found and (minute := int(found[1]) * 60 + int(found[2] or 0)) <= 24 * 60:
        return minute
    typed.wrong(name, f"{label}: “{seen[:40]}” is not a time of day, like 19:00.")
    return None


def _span(typed: Typed, name: str, label: str) -> tuple[int, int] | None:
    start = minute_of_day(typed, f"{name}-from", f"{label} from")
    end = minute_of_day(typed, f"{name}-to", f"{label} to")
    if start is not None and end is not None:
        return start, end
    if (start is None) != (end is None) and not typed.errors:
        missing = f"{name}-{'to' if end is None else 'from'}"
        typed.wrong(missing, f"{label}: give both times, or neither.")
    return None


def _whose(request: HttpRequest) -> Person:
    chosen = request.POST.get("person", "")
    if not chosen.isdecimal():
        return request.user
    return get_object_or_404(Person, pk=int(chosen[:9]))


def _people() -> QuerySet[Person]:
    return Person.objects.filter(is_active=True)


def _from_day(request: HttpRequest) -> date | None:
    try:
        return date.fromisoformat(request.GET.get("from", ""))
    except ValueError:
        return None


def _days(from_on: date, to_on: date) -> list[DayShown]:
    windows = Window.objects.filter(on__gte=from_on, on__lt=to_on)
    shown = {
        on: DayShown(on, windows=list(theirs))
        for on, theirs in groupby(_with_people(windows), key=lambda w: w.on)
    }
    for day in Day.objects.filter(on__gte=from_on, on__lt=to_on):
        shown.setdefault(day.on, DayShown(day.on)).day = day
    return [shown[on] for on in sorted(shown)]


def _with_people(windows: QuerySet[Window]) -> Iterable[Window]:
    return windows.select_related("person").order_by("on", "from_minute", "person_id")
