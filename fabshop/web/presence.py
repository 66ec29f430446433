"""When somebody is in besides the bench hours, who can begin a run or stop it."""

from __future__ import annotations

import re

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from fabshop import clock
from fabshop.actions.schedule import set_presence
from fabshop.errors import ShopError
from fabshop.records.schedule import Presence
from fabshop.web.gate import for_owner
from fabshop.web.hours import WEEKDAYS
from fabshop.web.respond import refused, respond
from fabshop.web.tap import said
from fabshop.web.templatetags.shop import clock_time
from fabshop.web.typed import Typed

_SPAN = re.compile(r"(\d{1,2})[:.]([0-5]\d) ?(?:-|–|to) ?(\d{1,2})[:.]([0-5]\d)")


@for_owner
def presence(request: HttpRequest) -> HttpResponse:
    """A line for each weekday; a run is begun in these minutes, no work is done."""
    spans: dict[int, list[str]] = {}
    for row in Presence.objects.all():
        told = f"{clock_time(row.from_minute)} to {clock_time(row.to_minute)}"
        spans.setdefault(row.weekday, []).append(told)
    context = {
        "now": clock.now(),
        "days": [
            (name.lower(), name, ", ".join(spans.get(number, ())))
            for number, name in enumerate(WEEKDAYS)
        ],
    }
    if request.method != "POST":
        return respond(request, "shop/presence.html", "", context)
    try:
        form = Typed(request)
        rows = [row for number in range(7) for row in _row(form, number)]
        form.refuse_if_wrong()
        set_presence(rows=rows, **said(request))
    except ShopError as error:
        return refused(request, error, "shop/presence.html", "", context)
    messages.success(request, "Kept. Plan again for the runs to follow it.")
    return redirect("overnights")


def _row(form: Typed, weekday: int) -> list[tuple[int, int, int]]:
    name = WEEKDAYS[weekday]
    found = []
    for part in filter(None, (p.strip() for p in form.raw(name.lower()).split(","))):
        match = _SPAN.fullmatch(part)
        if match is None:
            form.wrong(
                name.lower(),
                f"{name}: “{part[:40]}” is not from and to, like 06:45 to 07:30.",
            )
            return []
        begins, ends = (int(match[n]) * 60 + int(match[n + 1]) for n in (1, 3))
        found.append((weekday, begins, ends))
    return found
