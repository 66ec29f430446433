"""Getting an order in: from whom, what, how long it takes, and its lines."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect

from fabshop import clock, words
from fabshop.actions.order import add_line, add_order, change_line, change_order
from fabshop.errors import ShopError
from fabshop.reckoning.landing import ordered_on
from fabshop.records.build import Build, Component
from fabshop.records.order import Order, OrderLine, Supplier
from fabshop.snapshot import take
from fabshop.web.gate import for_owner
from fabshop.web.respond import Context, refused, respond
from fabshop.web.tap import tap
from fabshop.web.typed import Typed

LINE_FIELDS = ("title", "quantity", "unit", "hand", "component")
SPARE_ROWS = 2


@for_owner
def order_new(request: HttpRequest) -> HttpResponse:
    context = {**_choices(), "order": None, "rows": _rows(request)}
    if request.method != "POST":
        return respond(request, "order/form.html", "", context)
    if request.POST.get("more"):
        return respond(
            request, "order/form.html", "", {**context, "typed": request.POST}
        )
    try:
        form = Typed(request)
        code = form.needed("code", "Code", most=40)
        fields = _fields(form)
        lines = [_line(form, n) for n in form.rows("line", LINE_FIELDS[:2])]
        if not lines:
            form.wrong("line-0-title", "Lines: an order is for something. Write one.")
        form.refuse_if_wrong()
        order = add_order(code=code, lines=lines, **fields, **tap(request))
    except ShopError as error:
        return refused(request, error, "order/form.html", "", context)
    messages.info(request, f"{order.code} is kept. It is with you until it is sent.")
    facts = take(clock.now())
    known = facts.order_by_id.get(order.code)
    if known and (landing := ordered_on(facts, known, facts.now.date())):
        messages.warning(
            request,
            f"Sent today: {landing.said} Have it sent to the event, or leave it.",
        )
    return redirect("order", order.code)


@for_owner
def order_change(request: HttpRequest, code: str) -> HttpResponse:
    order = get_object_or_404(
        Order.objects.select_related("supplier", "build").prefetch_related("lines"),
        code=code,
    )
    context = {**_choices(), "order": order, "rows": []}
    if request.method != "POST":
        return respond(request, "order/form.html", "", context)
    try:
        form = Typed(request)
        fields = _fields(form)
        version = form.whole("version", "Version") or 0
        form.refuse_if_wrong()
        change_order(order=order, version=version, **fields, **tap(request))
    except ShopError as error:
        return refused(request, error, "order/form.html", "", context)
    return redirect("order", code)


@for_owner
def line_new(request: HttpRequest, code: str) -> HttpResponse:
    order = get_object_or_404(Order, code=code)
    context = {**_choices(), "order": order, "line": None}
    if request.method != "POST":
        return respond(request, "order/line.html", "", context)
    try:
        form = Typed(request)
        line = _line(form, None)
        form.refuse_if_wrong()
        about = tap(request)
        add_line(
            order=order,
            line=line,
            by=about["by"],
            now=about["now"],
            client_id=about["client_id"],
        )
    except ShopError as error:
        return refused(request, error, "order/line.html", "", context)
    return redirect("order", code)


@for_owner
def line_change(request: HttpRequest, code: str, number: int) -> HttpResponse:
    line = get_object_or_404(
        OrderLine.objects.select_related("order", "component"),
        order__code=code,
        number=number,
    )
    context = {**_choices(), "order": line.order, "line": line}
    if request.method != "POST":
        return respond(request, "order/line.html", "", context)
    try:
        form = Typed(request)
        fields = _line(form, None)
        version = form.whole("version", "Version") or 0
        form.refuse_if_wrong()
        about = tap(request)
        change_line(
            line=line,
            version=version,
            by=about["by"],
            now=about["now"],
            client_id=about["client_id"],
            **fields,
        )
    except ShopError as error:
        return refused(request, error, "order/line.html", "", context)
    return redirect("order", code)


def _choices() -> Context:
    return {
        "now": clock.now(),
        "suppliers": [("", "choose"), *Supplier.objects.values_list("code", "name")],
        "builds": [("", "no build"), *Build.objects.live().values_list("slug", "name")],
        "kinds": words.OrderKind.choices(),
        "units": words.Unit.choices(),
        "hands": [("", "no hand"), ("L", "left"), ("R", "right")],
    }


def _fields(form: Typed) -> dict[str, Any]:
    supplier = Supplier.objects.filter(code=form.raw("supplier")).first()
    if supplier is None:
        seen = form.raw("supplier")[:40]
        form.wrong("supplier", f"From: “{seen}” is no supplier here. Choose one.")
    build = Build.objects.filter(slug=form.raw("build")).first()
    if build is None and form.raw("build"):
        form.wrong("build", f"For: “{form.raw('build')[:40]}” is no build here.")
    return {
        "supplier": supplier,
        "build": build,
        "title": form.needed("title", "What", most=160),
        "kind": form.choice("kind", "Kind", words.OrderKind, words.OrderKind.BOUGHT),
        "lead_early_days": form.whole("lead_early_days", "Lead days, early"),
        "lead_likely_days": form.whole("lead_likely_days", "Lead days, likely"),
        "lead_late_days": form.whole("lead_late_days", "Lead days, late"),
        "file_name": form.text("file_name", "File", most=160),
        "file_revision": form.text("file_revision", "Revision", most=12),
        "give_back_on": form.day("give_back_on", "Give back by"),
        "note": form.text("note", "Note", most=20_000),
    }


def _line(form: Typed, number: int | None) -> dict[str, Any]:
    """One line, out of a list of them or alone on its page."""
    before = "" if number is None else f"line-{number}-"
    name = "Line" if number is None else f"Line {number + 1}"
    quantity = form.milli(f"{before}quantity", f"{name}, how many")
    if quantity is None and not form.raw(f"{before}quantity"):
        form.wrong(f"{before}quantity", f"{name}, how many: nothing is written.")
    component = None
    if seen := form.raw(f"{before}component"):
        component = Component.objects.filter(code=seen).first()
        if component is None:
            form.wrong(
                f"{before}component", f"{name}: “{seen[:40]}” is no component here."
            )
    return {
        "title": form.needed(f"{before}title", f"{name}, what", most=160),
        "quantity_milli": quantity or 0,
        "unit": form.choice(f"{before}unit", name, words.Unit, words.Unit.PIECE),
        "hand": form.choice(f"{before}hand", name, words.Hand, words.Hand.NONE),
        "component": component,
    }


def _rows(request: HttpRequest) -> list[dict[str, Any]]:
    form = Typed(request)
    rows = [
        {
            "number": n,
            **{name: form.raw(f"line-{n}-{name}") for name in LINE_FIELDS},
        }
        for n in form.rows("line", LINE_FIELDS[:2])
    ]
    first = max((row["number"] for row in rows), default=-1) + 1
    spare = SPARE_ROWS if rows else 1
    blank = {name: "" for name in LINE_FIELDS} | {"unit": "pc"}
    return rows + [{**blank, "number": first + n} for n in range(spare)]
