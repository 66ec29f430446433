"""One cope without any frame: typed, echoed in millimetres, drawn, printed."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect
from django.views.decorators.http import require_POST

from fabshop import clock
from fabshop.actions.frame import keep_print_fit
from fabshop.errors import ShopError
from fabshop.reckoning.frame.typed import cope_typed
from fabshop.reckoning.wrap import Strip, Template, strips
from fabshop.records.frame import PrintFit
from fabshop.web.frame_picture import cope_picture
from fabshop.web.gate import for_writers, signed_in
from fabshop.web.respond import refused, respond
from fabshop.web.tap import said
from fabshop.web.typed import Typed

FIELDS = (
    *("od", "wall", "onto", "angle", "offset", "reads"),
    *("onto2", "angle2", "offset2", "twist"),
)


@signed_in
def cope(request: HttpRequest) -> HttpResponse:
    """Nothing is kept of it: the address itself carries what was typed."""
    asked = {name: request.GET.get(name, "")[:80] for name in FIELDS}
    context = cope_context(asked, request.GET)
    if not any(asked.values()):
        return respond(request, "frame/cope.html", "", context)
    try:
        read = cope_typed(asked)
    except ShopError as error:
        context |= {"error": error}
        return respond(request, "frame/cope.html", "", context, status=error.status)
    made = strips(read.template)
    context |= {
        "template": read.template,
        "notes": read.notes,
        "echo": _echo(read.template),
        "ends": [_shown(strip, number) for number, strip in enumerate(made)],
        "asked": urlencode({name: value for name, value in asked.items() if value}),
    }
    return respond(request, "frame/cope.html", "", context)


@require_POST
@for_writers
def cope_fit(request: HttpRequest) -> HttpResponse:
    """What the bars of a printed template measured; every later one is mended by it."""
    try:
        form = Typed(request)
        measured = {
            "across_um": form.length_um("across", "Bar across the page"),
            "along_um": form.length_um("along", "Bar along the page"),
            "paper_um": form.length_um("thick", "Paper thickness"),
        }
        form.refuse_if_wrong()
        kept = keep_print_fit(**measured, **said(request))
    except ShopError as error:
        context = cope_context({}, QueryDict())
        return refused(request, error, "frame/cope.html", "", context)
    messages.info(
        request,
        f"Templates are printed with correction {kept.across_ppm / 1e6:.4f} across, "
        f"{kept.along_ppm / 1e6:.4f} along from now on. Print again and measure.",
    )
    return redirect("cope")


def cope_context(asked: dict[str, str], typed: QueryDict) -> dict[str, Any]:
    return {
        "now": clock.now(),
        "typed": _with_reading(typed) if any(asked.values()) else None,
        "reads": [("between", "Angle between"), ("dial", "Dial from square")],
        "fit": PrintFit.objects.first(),
        "is_both": bool(asked.get("onto2") or asked.get("angle2")),
    }


def _with_reading(typed: QueryDict) -> QueryDict:
    """What was typed; whoever did not say which angle it is means the one between."""
    known = typed.copy()
    known.setdefault("reads", "between")
    return known


def _echo(template: Template) -> str:
    """What was read, in millimetres and degrees, whatever it was typed in."""
    ends = "; ".join(
        f"onto {end.onto_mm:g} mm at {end.angle_deg:g}° between"
        + (f", offset {end.offset_mm:g} mm" if end.offset_mm else "")
        for end in template.ends
    )
    return f"Tube {template.od_mm:g} × {template.wall_mm:g} mm {ends}."


def _shown(strip: Strip, number: int) -> dict[str, Any]:
    return {
        "name": "Other end" if number else "This end",
        "strip": strip,
        "depth": strip.longest_mm - strip.shortest_mm,
        "picture": cope_picture(strip),
        "rows": [
            (
                at,
                strip.cut_mm(strip.turn_deg(at)),
                strip.outer_mm(strip.turn_deg(at)),
                strip.inner_mm(strip.turn_deg(at)),
            )
            for at in range(0, 360, 30)
        ],
    }
