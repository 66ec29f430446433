"""Dimensions measured on what came, against the drawing's tolerance."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from fabshop import clock, words
from fabshop.actions.drawing import decide_check, measure_check
from fabshop.actions.drawing.check import said_of_check
from fabshop.errors import NotAllowed, ShopError
from fabshop.records.drawing import MeasuredCheck
from fabshop.records.order import OrderLine
from fabshop.web.gate import for_writers, signed_in
from fabshop.web.respond import Context, refused, respond
from fabshop.web.tap import tap
from fabshop.web.typed import Typed


@signed_in
def check_list(request: HttpRequest, code: str, number: int) -> HttpResponse:
    """What was measured of one line, and the form for the next reading."""
    lines = OrderLine.objects.select_related("order__supplier").prefetch_related(
        "checks__person", "checks__decisions__person"
    )
    line = get_object_or_404(lines, order__code=code, number=number)
    if request.method != "POST":
        return respond(request, "drawing/checks.html", "", _context(line))
    if not request.user.may_write:
        raise NotAllowed("You may look at everything here, but not write.")
    try:
        form = Typed(request)
        nominal_um = form.length_um("nominal", "Drawn")
        reading_um = form.length_um("reading", "Measured")
        for name, label, value in (
            ("nominal", "Drawn", nominal_um),
            ("reading", "Measured", reading_um),
        ):
            if value is None and not form.raw(name):
                form.wrong(name, f"{label}: nothing is written.")
        lower_um = form.length_um("lower", "At most below")
        fields = {
            "label": form.needed("label", "What", most=80),
            "tolerance": form.choice(
                "tolerance", "Tolerance", words.Tolerance, words.Tolerance.MEDIUM
            ),
            "thickness_um": form.length_um("thickness", "Thickness"),
            # Typed without a sign: how far below it may be.
            "lower_um": None if lower_um is None else -abs(lower_um),
            "upper_um": form.length_um("upper", "At most above"),
        }
        form.refuse_if_wrong()
        check = measure_check(
            line=line,
            nominal_um=nominal_um or 0,
            reading_um=reading_um or 0,
            **fields,
            **tap(request),
        )
        messages.info(request, f"{said_of_check(check)}. What becomes of it?")
    except ShopError as error:
        return refused(request, error, "drawing/checks.html", "", _context(line))
    return redirect("check-list", code, number)


@require_POST
@for_writers
def check_decide(request: HttpRequest, pk: int) -> HttpResponse:
    """Accepted, penalty shelf, or live with it; the reckoned verdict stays."""
    checks = MeasuredCheck.objects.select_related("line__order")
    check = get_object_or_404(checks, pk=pk)
    decision = decide_check(
        check=check,
        how=request.POST.get("how", ""),
        reason=request.POST.get("reason", ""),
        **tap(request),
    )
    messages.info(request, f"{check.label}: {decision.get_how_display()}.")
    return redirect("check-list", check.line.order.code, check.line.number)


def _context(line: OrderLine) -> Context:
    rows = []
    for check in line.checks.all():
        decisions = list(check.decisions.all())
        rows.append((check, said_of_check(check), decisions[-1] if decisions else None))
    return {
        "now": clock.now(),
        "line": line,
        "order": line.order,
        "rows": rows[::-1],
        "open_count": sum(1 for _, _, decision in rows if decision is None),
        "tolerances": words.Tolerance.choices(),
    }
