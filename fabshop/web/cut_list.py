"""Cut lists: what is wanted, what to cut from which piece, and each cut booked."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from fabshop import clock, words
from fabshop.actions.stock import (
    add_wish,
    ask_cut_list,
    cut_piece,
    cut_sheet,
    give_up_wish,
)
from fabshop.errors import NotFound, ShopError
from fabshop.records.stock import Cut, CutList, CutMark, CutWish, Piece
from fabshop.records.task import Task
from fabshop.snapshot.stock import open_wishes
from fabshop.web.gate import for_writers, signed_in
from fabshop.web.respond import Context, refused, respond
from fabshop.web.stock_cut import length_um, task_called, told
from fabshop.web.stock_form import echo, form_context, read_sizes
from fabshop.web.tap import said, tap
from fabshop.web.typed import Typed


@signed_in
def cut_lists(request: HttpRequest) -> HttpResponse:
    """What is still to be cut, and the list that says from what."""
    last = CutList.objects.first()
    context: Context = {
        "now": clock.now(),
        "wishes": open_wishes(),
        "lists": CutList.objects.select_related("person")[:20],
        "last": last,
        **(_shown(last) if last else {}),
    }
    return respond(request, "stock/cuts.html", "", context)


@signed_in
def cut_list(request: HttpRequest, number: int) -> HttpResponse:
    made = get_object_or_404(CutList.objects.select_related("person"), number=number)
    last = CutList.objects.values_list("number", flat=True).first()
    context = {"now": clock.now(), "made": made, "newest": last, **_shown(made)}
    return respond(request, "stock/cut_list.html", "", context)


def _shown(made: CutList) -> Context:
    """The kept answer with what has been cut of it; nothing is reckoned again."""
    cuts = Cut.objects.filter(mark__cut_list=made, is_taken_back=False)
    done = {cut.mark.mark: cut for cut in cuts.select_related("mark")}
    groups: list[dict[str, Any]] = []
    for group in made.answer["groups"]:
        bars = []
        for bar in group["bars"]:
            marks = [{**cut, "done": done.get(cut["mark"])} for cut in bar["cuts"]]
            bars.append({**bar, "cuts": marks})
        groups.append({**group, "bars": bars})
    sheet_groups = made.answer.get("sheet_groups", [])
    for group in sheet_groups:
        for sheet in group["sheets"]:
            sheet["done"] = any(one["mark"] in done for one in sheet["blanks"])
    total = sum(len(bar["cuts"]) for group in groups for bar in group["bars"])
    total += sum(len(s["blanks"]) for group in sheet_groups for s in group["sheets"])
    return {
        "groups": groups,
        "sheet_groups": sheet_groups,
        "cut_count": len(done),
        "mark_count": total,
    }


@require_POST
@for_writers
def cut_list_ask(request: HttpRequest) -> HttpResponse:
    about = tap(request)
    made = ask_cut_list(by=about["by"], now=about["now"], client_id=about["client_id"])
    return redirect("cut-list", made.number)


@for_writers
def cut_mark(request: HttpRequest, number: int, mark: str) -> HttpResponse:
    """One cut of the list: the length as it was really cut, and Cut."""
    row = get_object_or_404(
        CutMark.objects.select_related("cut_list", "piece__material", "wish__task"),
        cut_list__number=number,
        mark=mark,
    )
    context: Context = {
        "now": clock.now(),
        "row": row,
        "done": row.cuts.filter(is_taken_back=False).first(),
    }
    if request.method != "POST":
        return respond(request, "stock/mark.html", "", context)
    try:
        form = Typed(request)
        length = length_um(form, "length", "Length")
        form.refuse_if_wrong()
        cut = cut_piece(
            piece=row.piece,
            mark=row,
            length_um=length or 0,
            kerf_um=row.kerf_um,
            rest=form.raw("rest") or _rest(row, length or 0),
            waive=form.text("waive", "Reason", most=160),
            made_apart=form.is_ticked("made_apart"),
            **tap(request),
        )
    except ShopError as error:
        return refused(request, error, "stock/mark.html", "", context)
    messages.info(request, f"{row.mark}: {told(cut)}")
    return redirect("cut-list", number)


@for_writers
def sheet_cut(request: HttpRequest, number: int, code: str) -> HttpResponse:
    """A whole sheet is cut as the list drew it; what is its drop called?"""
    made = get_object_or_404(CutList, number=number)
    piece = get_object_or_404(Piece.objects.select_related("material"), code=code)
    groups = _shown(made)["sheet_groups"]
    drawn = [s for group in groups for s in group["sheets"] if s["piece"] == code]
    if not drawn:
        raise NotFound(f"{made} draws nothing on {code}.")
    context: Context = {
        "now": clock.now(),
        "list": made,
        "piece": piece,
        "sheet": drawn[0],
    }
    if request.method != "POST":
        return respond(request, "stock/sheet.html", "", context)
    try:
        form = Typed(request)
        cut_sheet(
            cut_list=made,
            piece=piece,
            drop_code=form.text("drop_code", "Code of the drop", most=40),
            waive=form.text("waive", "Reason", most=160),
            **tap(request),
        )
    except ShopError as error:
        return refused(request, error, "stock/sheet.html", "", context)
    messages.info(request, f"{code} is cut up as drawn.")
    return redirect("cut-list", number)


def _rest(row: CutMark, length: int) -> str:
    """What the list said of a short rest; asked anew where the cut differs from it."""
    if length != row.part_um or row.left_um >= row.cut_list.keep_over_um:
        return ""
    return "scrap"


@for_writers
def wish_new(request: HttpRequest) -> HttpResponse:
    context = {
        **form_context(),
        "tasks": [("", "no task")]
        + [(task.code, str(task)) for task in Task.objects.unfinished()],
    }
    if request.method != "POST":
        return respond(request, "stock/wish.html", "", context)
    try:
        form = Typed(request)
        kind = form.choice("form", "Form", words.PieceForm, words.PieceForm.TUBE)
        sizes = read_sizes(form, kind)
        fields = {
            "code": form.needed("code", "Code", most=40),
            "title": form.needed("title", "What for", most=120),
            "material": form.needed("material", "Material", most=40),
            "joints": form.text("joints", "Joints", most=120),
            "is_frame": form.is_ticked("is_frame"),
            "grain": form.choice("grain", "Grain", words.Grain, words.Grain.NONE),
            "quantity": form.whole("quantity", "How many") or 1,
        }
        form.refuse_if_wrong()
        if request.POST.get("do") != "save":
            context |= {"echo": echo(kind, sizes), "typed": request.POST}
            return respond(request, "stock/wish.html", "", context)
        wish = add_wish(
            form=kind,
            task=task_called(form.raw("task")),
            **sizes,
            **fields,
            **tap(request),
        )
    except ShopError as error:
        return refused(request, error, "stock/wish.html", "", context)
    messages.info(request, f"{wish.code} is to be cut.")
    return redirect("cut-lists")


@require_POST
@for_writers
def wish_give_up(request: HttpRequest, code: str) -> HttpResponse:
    give_up_wish(wish=get_object_or_404(CutWish, code=code), **said(request))
    return redirect("cut-lists")
