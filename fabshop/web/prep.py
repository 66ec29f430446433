"""The shop's own checklists and colour tables, metal by metal."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect

from fabshop import clock, words
from fabshop.actions.joint import (
    change_template,
    set_colour_table,
    set_prep_hours,
)
from fabshop.actions.joint.colour import table_of, verdicts_of
from fabshop.actions.joint.template import template_seen
from fabshop.errors import ShopError
from fabshop.records.joint import PrepTemplate
from fabshop.reference.caution import cautions
from fabshop.web.gate import for_owner, signed_in
from fabshop.web.joint import colours
from fabshop.web.respond import Context, refused, respond
from fabshop.web.tap import said
from fabshop.web.typed import Typed

_COLUMNS = ("text", "stage", "kind", "does", "minutes", "unit", "caution", "source")
_EMPTY_ROWS = 2


@signed_in
def prep_list(request: HttpRequest) -> HttpResponse:
    now = clock.now()
    latest: dict[str, PrepTemplate] = {}
    for template in PrepTemplate.objects.order_by("metal", "version"):
        latest[template.metal] = template
    minutes = request.shop.clean_minutes if request.shop else 0
    context: Context = {
        "now": now,
        "metals": [(metal, latest.get(metal)) for metal in words.Metal],
        "minutes": minutes,
    }
    if request.method != "POST":
        return respond(request, "prep/list.html", "", context)
    return _hours(request, context)


@for_owner
def _hours(request: HttpRequest, context: Context) -> HttpResponse:
    try:
        form = Typed(request)
        minutes = form.minutes("clean", "Clean for")
        form.refuse_if_wrong()
        set_prep_hours(clean_minutes=minutes or 0, **said(request))
    except ShopError as error:
        return refused(request, error, "prep/list.html", "", context)
    return redirect("prep-list")


@signed_in
def prep(request: HttpRequest, metal: str) -> HttpResponse:
    """A metal's checklist; the owner changes it into the next version."""
    template, steps = template_seen(_metal(metal), clock.now())
    context: Context = {
        "now": clock.now(),
        "template": template,
        "metal": words.Metal(metal),
        "steps": steps,
        "rows": _rows(request, steps),
        "stages": words.PrepStage.choices(),
        "kinds": words.PrepKind.choices(),
        "meanings": [("", "nothing more"), ("cleans", "cleans"), ("purges", "purges")],
        "cautions": [("", "none"), *((code, code) for code in cautions())],
    }
    if request.method != "POST":
        return respond(request, "prep/steps.html", "", context)
    return _change(request, context)


@for_owner
def _change(request: HttpRequest, context: Context) -> HttpResponse:
    template = context["template"]
    try:
        form = Typed(request)
        made = change_template(
            metal=template.metal,
            steps=_typed_steps(form),
            wants_colour=form.is_ticked("wants_colour"),
            seen_version=form.whole("seen_version", "Version"),
            **said(request),
        )
    except ShopError as error:
        return refused(request, error, "prep/steps.html", "", context)
    messages.info(
        request, f"Version {made.version}. Checklists that are begun keep theirs."
    )
    return redirect("prep", made.metal)


@signed_in
def prep_colours(request: HttpRequest, metal: str) -> HttpResponse:
    """What each colour means: as published, or by the shop's own table."""
    table = table_of(_metal(metal))
    context: Context = {
        "now": clock.now(),
        "metal": words.Metal(metal),
        "table": table,
        "colours": colours(verdicts_of(metal, table)),
        "verdicts": words.Verdict.choices(),
    }
    if request.method != "POST":
        return respond(request, "prep/colours.html", "", context)
    return _judge(request, context)


@for_owner
def _judge(request: HttpRequest, context: Context) -> HttpResponse:
    metal: words.Metal = context["metal"]
    try:
        form = Typed(request)
        name = form.needed("name", "Name", most=80)
        source = form.needed("source", "Where it is from", most=300)
        form.refuse_if_wrong()
        set_colour_table(
            metal=metal,
            name=name,
            source=source,
            verdicts={
                colour: form.raw(f"colour-{colour.value}") or "person"
                for colour in words.Colour
            },
            **said(request),
        )
    except ShopError as error:
        return refused(request, error, "prep/colours.html", "", context)
    return redirect("prep-colours", metal.value)


def _metal(name: str) -> words.Metal:
    try:
        return words.Metal(name)
    except ValueError:
        raise Http404 from None


def _typed_steps(form: Typed) -> list[dict[str, Any]]:
    steps = []
    for number in form.rows("step", ("text",)):
        at = f"step-{number}"
        minutes = form.minutes(f"{at}-minutes", "Minutes")
        row: dict[str, Any] = {name: form.raw(f"{at}-{name}") for name in _COLUMNS}
        if not row["stage"]:
            row["stage"] = words.PrepStage.TACK
        if not row["kind"]:
            row["kind"] = words.PrepKind.TICK
        steps.append(
            {**row, "minutes": minutes, "is_stop": form.is_ticked(f"{at}-is_stop")}
        )
    form.refuse_if_wrong()
    return steps


def _rows(request: HttpRequest, steps: list[Any]) -> list[dict[str, Any]]:
    """The steps as rows of the form, as typed where refused, and spare ones."""
    rows = [
        {name: getattr(step, name) for name in (*_COLUMNS, "is_stop")} for step in steps
    ]
    rows += [{"stage": "tack", "kind": "tick"} for _ in range(_EMPTY_ROWS)]
    if request.method == "POST":
        form = Typed(request)
        for number, row in enumerate(rows, start=1):
            at = f"step-{number}"
            row.update({name: form.raw(f"{at}-{name}") for name in _COLUMNS})
            row["is_stop"] = form.is_ticked(f"{at}-is_stop")
    return rows
