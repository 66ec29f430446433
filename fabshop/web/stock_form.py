"""Putting a piece or a material on the rack; sizes are echoed before they are kept."""

from __future__ import annotations

from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from fabshop import clock, units, words
from fabshop.actions.stock import add_material, add_piece
from fabshop.actions.stock.piece import MEASURES, measured
from fabshop.errors import ShopError
from fabshop.records.stock import Material, Piece
from fabshop.reference.material import materials
from fabshop.web.gate import for_owner, for_writers
from fabshop.web.respond import Context, refused, respond
from fabshop.web.tap import tap
from fabshop.web.typed import Typed

Options = list[tuple[str, str]]


@for_writers
def piece_new(request: HttpRequest) -> HttpResponse:
    """First what was typed is read back in millimetres, then it is kept."""
    context = form_context()
    if request.method != "POST":
        return respond(request, "stock/new.html", "", context)
    try:
        form = Typed(request)
        kind = form.choice("form", "Form", words.PieceForm, words.PieceForm.TUBE)
        sizes = read_sizes(form, kind)
        fields = {
            "code": form.needed("code", "Code", most=40),
            "material": form.needed("material", "Material", most=40),
            "heat_lot": form.text("heat_lot", "Heat lot", most=40),
            "place": form.text("place", "Place", most=60),
            "drop_of": form.text("drop_of", "Drop of", most=40) or None,
            "is_drop": form.is_ticked("is_drop"),
            "grain": form.choice("grain", "Grain", words.Grain, words.Grain.NONE),
            "note": form.text("note", "Note", most=160),
        }
        form.refuse_if_wrong()
        measured(kind, **sizes)
        if request.POST.get("do") != "save":
            context |= {"echo": echo(kind, sizes), "typed": request.POST}
            return respond(request, "stock/new.html", "", context)
        piece = add_piece(form=kind, **sizes, **fields, **tap(request))
    except ShopError as error:
        return refused(request, error, "stock/new.html", "", context)
    messages.info(request, f"{piece.code} is on the rack. Write its code on it.")
    return redirect("piece", piece.code)


@for_owner
def material_new(request: HttpRequest) -> HttpResponse:
    context: Context = {
        "now": clock.now(),
        "own": Material.objects.filter(is_own=True),
        "rows": materials().values(),
    }
    if request.method != "POST":
        return respond(request, "stock/material.html", "", context)
    try:
        form = Typed(request)
        fields = {
            name: form.needed(name, label, most=most)
            for name, label, most in (
                ("code", "Code", 40),
                ("name", "Name", 80),
                ("family", "Family", 40),
                ("source", "Source", 300),
            )
        }
        density = form.milli("density", "Density")
        if density is None:
            form.wrong("density", "Density: nothing is written. Grams to the cm³.")
        form.refuse_if_wrong()
        made = add_material(
            density_g_cm3=Decimal(density or 0) / 1000, **fields, **tap(request)
        )
    except ShopError as error:
        return refused(request, error, "stock/material.html", "", context)
    messages.info(request, f"{made} can be put on the rack now.")
    return redirect("piece-new")


def form_context() -> Context:
    return {
        "now": clock.now(),
        "forms": words.PieceForm.choices(),
        "materials": known_materials(),
        "grains": [(grain.value, grain.label or "none") for grain in words.Grain],
        "places": places(),
    }


def known_materials() -> Options:
    """Those of the shop first, then the rest of the reference."""
    mine = dict(Material.objects.values_list("code", "name"))
    rest = {code: row.name for code, row in materials().items() if code not in mine}
    return [*sorted(mine.items(), key=lambda one: one[1]), *rest.items()]


def places() -> list[str]:
    rows = Piece.objects.on_the_rack().exclude(place="").order_by("place")
    return list(rows.values_list("place", flat=True).distinct())


def read_sizes(form: Typed, kind: words.PieceForm) -> dict[str, int | None]:
    """Section and length, or size, as typed; what cannot be read is gathered."""
    names: dict[str, int | None] = {}
    if kind in (words.PieceForm.TUBE, words.PieceForm.ROD):
        section = _read(form, "section", "Section", len(MEASURES[kind]))
        lengths = _read(form, "size", "Length", 1)
        names |= dict(zip(MEASURES[kind], section, strict=False))
        names["length_um"] = lengths[0] if lengths else None
    else:
        thick = _read(form, "section", "Thickness", 1)
        size = _read(form, "size", "Size", 2)
        names["thickness_um"] = thick[0] if thick else None
        names |= dict(zip(("length_um", "width_um"), size, strict=False))
    return names


def _read(form: Typed, name: str, label: str, count: int) -> tuple[int, ...]:
    try:
        sizes = units.parse_sizes_um(
            form.raw(name), count=count, field=name, label=label
        )
    except ShopError as error:
        form.errors.extend(error.errors)
        return ()
    if sizes is None:
        form.wrong(name, f"{label}: nothing is written.")
    return sizes or ()


def echo(kind: words.PieceForm, sizes: dict[str, Any]) -> str:
    """What was read, for a person to see before it is kept."""
    if kind is words.PieceForm.TUBE:
        section = units.show_sizes(sizes["od_um"], sizes["wall_um"])
    else:
        section = units.show_length(sizes.get("od_um") or sizes["thickness_um"])
    size = units.show_length(sizes["length_um"])
    if sizes.get("width_um"):
        size = units.show_sizes(sizes["length_um"], sizes["width_um"])
    return f"{kind.label} {section}, {size}"
