"""Forms of the shelf: another consumable, another tray, and what is said of one."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from fabshop import clock, words
from fabshop.actions.shelf import (
    add_consumable,
    add_tray,
    change_consumable,
    change_tray,
    fill_from_line,
)
from fabshop.errors import BadInput, ShopError
from fabshop.records.order import OrderLine
from fabshop.records.shelf import Consumable, Tray
from fabshop.web.gate import for_owner, for_writers
from fabshop.web.respond import Context, refused, respond
from fabshop.web.shelf import found_thing
from fabshop.web.tap import tap
from fabshop.web.typed import Typed

OPENED = (("", "no"), ("yes", "yes, on the day below"), ("some-day", "yes, some day"))


@for_writers
def shelf_new(request: HttpRequest) -> HttpResponse:
    """Put a consumable on the shelf."""
    context: Context = {
        "now": clock.now(),
        "units": words.ShelfUnit.choices(),
        "hazards": words.Hazard.choices(),
        "opened": OPENED,
    }
    if request.method != "POST":
        return respond(request, "shelf/new.html", "", context)
    try:
        form = Typed(request)
        said = _described(form)
        code = form.needed("code", "Code", most=40)
        quantity = form.milli("quantity", "How much is there") or 0
        form.refuse_if_wrong()
        thing = add_consumable(
            code=code,
            unit=form.raw("unit"),
            quantity_milli=quantity,
            **said,
            **tap(request),
        )
    except ShopError as error:
        return refused(request, error, "shelf/new.html", "", context)
    messages.success(request, f"{thing} is on the shelf.")
    return redirect("shelf-thing", thing.code)


@for_writers
def tray_new(request: HttpRequest) -> HttpResponse:
    """Put a tray of screws, nuts or ties on the shelf."""
    context: Context = {"now": clock.now(), "kinds": words.TrayKind.choices()}
    if request.method != "POST":
        return respond(request, "shelf/tray_new.html", "", context)
    try:
        form = Typed(request)
        code = form.needed("code", "Code", most=40)
        size = form.needed("size", "Size", most=40)
        quantity = form.milli("quantity", "How many are there") or 0
        place = form.text("place", "Place", most=60)
        form.refuse_if_wrong()
        tray = add_tray(
            code=code,
            size=size,
            kind=form.raw("kind") or words.TrayKind.SCREW,
            is_single_use=form.is_ticked("is_single_use"),
            quantity_milli=quantity,
            place=place,
            **tap(request),
        )
    except ShopError as error:
        return refused(request, error, "shelf/tray_new.html", "", context)
    messages.success(request, f"{tray} is on the shelf.")
    return redirect("shelf-thing", tray.code)


@for_writers
def shelf_change(request: HttpRequest, code: str) -> HttpResponse:
    """Place and note are everybody's to say, dates and names the owner's."""
    thing = found_thing(code)
    context: Context = {
        "now": clock.now(),
        "thing": thing,
        "is_tray": isinstance(thing, Tray),
        "hazards": words.Hazard.choices(),
        "opened": OPENED,
        "is_opened": _opened(thing) if isinstance(thing, Consumable) else "",
    }
    if request.method != "POST":
        return respond(request, "shelf/change.html", "", context)
    try:
        form = Typed(request)
        version = form.whole("version", "Version")
        said = {
            "place": form.text("place", "Place", most=60),
            "note": form.text("note", "Note", most=160),
        }
        if isinstance(thing, Tray):
            form.refuse_if_wrong()
            change_tray(tray=thing, version=version, **said, **tap(request))
        else:
            if request.user.is_owner:
                said = _described(form)
            form.refuse_if_wrong()
            change_consumable(consumable=thing, version=version, **said, **tap(request))
    except ShopError as error:
        return refused(request, error, "shelf/change.html", "", context)
    messages.success(request, f"{code} is changed.")
    return redirect("shelf-thing", code)


@for_owner
def shelf_fill(request: HttpRequest, code: str) -> HttpResponse:
    """Name the order line that fills it; what was booked in counts at once."""
    thing = found_thing(code)
    lines = OrderLine.objects.filter(supply=None, order__given_up_at=None)
    context: Context = {
        "now": clock.now(),
        "thing": thing,
        "lines": [
            (f"{line.order.code}/{line.number}", f"{line.order.code} {line.title}")
            for line in lines.select_related("order").order_by("-order__made_at", "pk")
        ],
    }
    if request.method != "POST":
        return respond(request, "shelf/fill.html", "", context)
    try:
        form = Typed(request)
        line = _line(form.raw("line"))
        each = form.milli("each", "For each one")
        form.refuse_if_wrong()
        told: dict[str, Any] = {} if each is None else {"each_milli": each}
        fill_from_line(line=line, thing=thing, **told, **tap(request))
    except ShopError as error:
        return refused(request, error, "shelf/fill.html", "", context)
    messages.success(request, f"{line.order.code}/{line.number} fills {code}.")
    return redirect("shelf-thing", code)


def _line(name: str) -> OrderLine:
    order, _, number = name.partition("/")
    lines = OrderLine.objects.select_related("order").filter(order__code=order)
    found = lines.filter(number=int(number[:4])) if number[:4].isdecimal() else None
    line = found.first() if found is not None else None
    if line is None:
        raise BadInput(f"Line: there is none called “{name[:40]}”.", field="line")
    return line


def _described(form: Typed) -> dict[str, Any]:
    opened = form.raw("opened")
    return {
        "name": form.needed("name", "Name", most=120),
        "lot": form.text("lot", "Lot", most=40),
        "is_opened": bool(opened),
        "opened_on": form.day("opened_on", "Opened on") if opened == "yes" else None,
        "use_by_on": form.day("use_by_on", "Use by"),
        "opened_life_days": form.whole("opened_life_days", "Days it keeps opened"),
        "is_lasting": form.is_ticked("is_lasting"),
        "place": form.text("place", "Place", most=60),
        "hazard": form.raw("hazard"),
        "note": form.text("note", "Note", most=160),
    }


def _opened(thing: Consumable) -> str:
    if not thing.is_opened:
        return ""
    return "yes" if thing.opened_on else "some-day"
