"""Cutting a piece, holding it for a task, letting go, and taking it off the rack."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from fabshop import clock, units
from fabshop.actions.shop import the_shop
from fabshop.actions.stock import (
    change_piece,
    cut_piece,
    release_piece,
    reserve_piece,
    retire_piece,
)
from fabshop.errors import BadInput, ShopError
from fabshop.records.shop import Shop
from fabshop.records.stock import Cut, Piece, Reservation
from fabshop.records.task import Task
from fabshop.snapshot.stock import piece_facts
from fabshop.web.gate import for_writers
from fabshop.web.respond import Context, refused, respond
from fabshop.web.stock import piece_context
from fabshop.web.tap import tap
from fabshop.web.typed import Typed


@for_writers
def piece_cut(request: HttpRequest, code: str) -> HttpResponse:
    """A length off a piece; a refusal shows the same form with what may be said."""
    row = get_object_or_404(Piece.objects.select_related("material"), code=code)
    if request.method != "POST":
        return respond(request, "stock/cut.html", "", _context(request, row))
    try:
        form = Typed(request)
        length = length_um(form, "length", "Length")
        kerf = length_um(form, "kerf", "Kerf", empty=True)
        form.refuse_if_wrong()
        cut = cut_piece(
            piece=row,
            length_um=length or 0,
            kerf_um=kerf,
            task=task_called(form.raw("task")),
            across=form.is_ticked("across"),
            keep_as=form.text("keep_as", "Code", most=40),
            rest=form.raw("rest"),
            waive=form.text("waive", "Reason", most=160),
            made_apart=form.is_ticked("made_apart"),
            **tap(request),
        )
    except ShopError as error:
        return refused(request, error, "stock/cut.html", "", _context(request, row))
    messages.info(request, told(cut))
    return redirect("piece", code)


def told(cut: Cut) -> str:
    """What a cut came to, and what to write on what is left."""
    code, left = cut.piece.code, units.show_length(cut.left)
    said = f"{units.show_length(cut.part)} cut from {code}."
    if cut.left < 0:
        return f"{said} It reads {left} now: measure it."
    if not cut.left:
        return f"{said} Nothing is left of {code}."
    return f"{said} {left} left: write {code} and {left} on the drop."


@require_POST
@for_writers
def piece_hold(request: HttpRequest, code: str) -> HttpResponse:
    row = get_object_or_404(Piece.objects.select_related("material"), code=code)
    try:
        form = Typed(request)
        length = length_um(form, "held", "Length", empty=True)
        form.refuse_if_wrong()
        task = task_called(form.raw("holder"))
        if task is None:
            raise BadInput("For which task? Choose one.", field="holder")
        held = reserve_piece(
            piece=row,
            task=task,
            length_um=length,
            waive=form.text("waive", "Reason", most=160),
            **tap(request),
        )
    except ShopError as error:
        return refused(request, error, "stock/piece.html", "", piece_context(row))
    messages.info(
        request, f"{units.show_length(held.length_um)} of {code} held for {task.code}."
    )
    return redirect("piece", code)


@require_POST
@for_writers
def piece_let_go(request: HttpRequest, code: str, pk: int) -> HttpResponse:
    held = get_object_or_404(Reservation, pk=pk, piece__code=code)
    release_piece(held=held, **tap(request))
    return redirect("piece", code)


@require_POST
@for_writers
def piece_change(request: HttpRequest, code: str) -> HttpResponse:
    row = get_object_or_404(Piece.objects.select_related("material"), code=code)
    try:
        form = Typed(request)
        place = form.text("place", "Place", most=60)
        note = form.text("note", "Note", most=160)
        lot = form.text("heat_lot", "Heat lot", most=40)
        form.refuse_if_wrong()
        said = {"heat_lot": lot} if request.user.is_owner else {}
        change_piece(piece=row, place=place, note=note, **said, **tap(request))
    except ShopError as error:
        return refused(request, error, "stock/piece.html", "", piece_context(row))
    return redirect("piece", code)


@require_POST
@for_writers
def piece_retire(request: HttpRequest, code: str) -> HttpResponse:
    row = get_object_or_404(Piece.objects.select_related("material"), code=code)
    try:
        why = Typed(request).raw("why")[:160]
        retire_piece(piece=row, why=why, **tap(request))
    except ShopError as error:
        return refused(request, error, "stock/piece.html", "", piece_context(row))
    messages.info(request, f"{code} is gone from the rack: {why}.")
    return redirect("rack")


def length_um(form: Typed, name: str, label: str, *, empty: bool = False) -> int | None:
    """A length as the trade writes it; gathered as wrong where it cannot be read."""
    seen = form.raw(name)
    if empty and seen in ("", "0"):
        return None if not seen else 0
    try:
        sizes = units.parse_sizes_um(seen, count=1, field=name, label=label)
    except ShopError as error:
        form.errors.extend(error.errors)
        return None
    if sizes is None:
        form.wrong(name, f"{label}: nothing is written. Write millimetres like 218.")
        return None
    return sizes[0]


def task_called(code: str) -> Task | None:
    """The task of that code; None where none is named."""
    if not code:
        return None
    task = Task.objects.filter(code=code).first()
    if task is None:
        raise BadInput(f"Task: there is no {code[:40]}.", field="task")
    return task


def _context(request: HttpRequest, row: Piece) -> Context:
    (fact,) = piece_facts(Piece.objects.filter(pk=row.pk))
    wanting = Task.objects.unfinished().filter(reservations__piece=row).distinct()
    wanting |= Task.objects.unfinished().filter(cut_wishes__isnull=False).distinct()
    return {
        "now": clock.now(),
        "piece": row,
        "fact": fact,
        "kerf_um": (the_shop() or Shop()).kerf_um,
        "tasks": [("", "no task")] + [(t.code, str(t)) for t in wanting.distinct()],
        "length": request.GET.get("length", "")[:20],
        "for_code": request.GET.get("for", "")[:40],
    }
