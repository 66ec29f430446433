"""The taps at the shelf: used, counted, opened, thrown away, let through gone off."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils.html import format_html
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST

from fabshop import clock
from fabshop.actions.shelf import (
    bag_short,
    came_in,
    count_up,
    let_through,
    open_consumable,
    put_back,
    retire_consumable,
    retire_tray,
    take_from_tray,
    throw_away,
    use_consumable,
)
from fabshop.actions.shelf.locked import amount
from fabshop.errors import BadInput, ShopError
from fabshop.reckoning.facts import TrayFact
from fabshop.reckoning.shelf import thread_of
from fabshop.records.build import Component
from fabshop.records.shelf import Consumable, ShelfMove, Tray
from fabshop.records.task import Task
from fabshop.snapshot.shelf import consumable_facts, tray_facts
from fabshop.web.gate import for_owner, for_writers
from fabshop.web.respond import refused, respond
from fabshop.web.shelf import found_thing, thing_context
from fabshop.web.tap import tap
from fabshop.web.typed import Typed

SAID = {
    "used": "used",
    "counted": "counted",
    "thrown": "thrown away",
    "back": "put back",
    "came": "came in",
}


@require_POST
@for_writers
def shelf_move(request: HttpRequest, code: str) -> HttpResponse:
    """One move of one thing; a refusal shows its page again with what was typed."""
    thing = found_thing(code)
    try:
        move = _moved(request, thing)
    except ShopError as error:
        return refused(request, error, "shelf/thing.html", "", thing_context(code))
    messages.success(
        request,
        format_html(
            '{}: {} {}. <a href="{}">Look, or undo it</a>',
            code,
            amount(thing, abs(move.change_milli)),
            SAID[request.POST["do"]],
            reverse("log-entry", args=[move.client_id]),
        ),
    )
    return _back(request, code)


def _moved(request: HttpRequest, thing: Consumable | Tray) -> ShelfMove:
    form, do = Typed(request), request.POST.get("do", "")
    if do == "counted":
        seen = form.milli("seen", "Seen")
        form.refuse_if_wrong()
        if seen is None:
            raise BadInput("Seen: nothing is written.", field="seen")
        reason = form.text("reason", "Reason", most=160)
        form.refuse_if_wrong()
        return count_up(thing=thing, seen_milli=seen, reason=reason, **tap(request))
    quantity = form.milli("quantity", "Quantity")
    note = form.text("note", "Note", most=160)
    task = _task(form)
    form.refuse_if_wrong()
    if quantity is None:
        raise BadInput("Quantity: nothing is written.", field="quantity")
    told: dict[str, Any] = {"quantity_milli": quantity, **tap(request)}
    if do == "used" and isinstance(thing, Consumable):
        return use_consumable(consumable=thing, task=task, note=note, **told)
    if do == "used" and isinstance(thing, Tray):
        return take_from_tray(tray=thing, task=task, note=note, **told)
    if do == "thrown":
        return throw_away(thing=thing, why=note, **told)
    if do == "back":
        return put_back(thing=thing, note=note, **told)
    if do == "came":
        return came_in(thing=thing, note=note, **told)
    raise BadInput("What is to be done with it? Tap one of the keys.", field="do")


def _task(form: Typed) -> Task | None:
    code = form.raw("task")
    task = Task.objects.filter(code=code).first() if code else None
    if code and task is None:
        form.wrong("task", f"Task: there is none called “{code[:40]}”.")
    return task


@require_POST
@for_writers
def shelf_open(request: HttpRequest, code: str) -> HttpResponse:
    """Opened today, or on the day that is named."""
    thing = get_object_or_404(Consumable, code=code)
    try:
        form = Typed(request)
        on = form.day("opened_on", "Opened on")
        form.refuse_if_wrong()
        open_consumable(consumable=thing, on=on, **tap(request))
    except ShopError as error:
        return refused(request, error, "shelf/thing.html", "", thing_context(code))
    messages.success(request, f"{code} is opened.")
    return redirect("shelf-thing", code)


@require_POST
@for_owner
def shelf_gone(request: HttpRequest, code: str) -> HttpResponse:
    """Off the shelf for good, with the reason."""
    thing = found_thing(code)
    try:
        why = Typed(request).text("why", "Why", most=160)
        if isinstance(thing, Tray):
            retire_tray(tray=thing, why=why, **tap(request))
        else:
            retire_consumable(consumable=thing, why=why, **tap(request))
    except ShopError as error:
        return refused(request, error, "shelf/thing.html", "", thing_context(code))
    messages.info(request, f"{code} is gone from the shelf; its history stays.")
    return redirect("shelf")


@for_owner
@require_POST
def task_overrule(request: HttpRequest, code: str) -> HttpResponse:
    """Let this task use what has gone off; the reason stays on its sheets."""
    task = get_object_or_404(Task, code=code)
    thing = get_object_or_404(Consumable, code=request.POST.get("thing", ""))
    try:
        form = Typed(request)
        reason = form.text("reason", "Reason", most=200)
        form.refuse_if_wrong()
        let_through(consumable=thing, task=task, reason=reason, **tap(request))
    except ShopError as error:
        facts = consumable_facts(Consumable.objects.filter(pk=thing.pk))
        context = {"now": clock.now(), "task": task, "things": facts}
        return refused(request, error, "shelf/held.html", "", context)
    messages.success(request, f"{code} may use {thing}. The reason is on its sheets.")
    return redirect("task", code)


@for_writers
def component_bag_short(request: HttpRequest, code: str) -> HttpResponse:
    """A screw of this part's bag is missing: which tray does the next come from?"""
    part = get_object_or_404(Component, code=code)
    context = {
        "now": clock.now(),
        "part": part,
        "trays": trays_for(part),
        "then": request.POST.get("then") or request.GET.get("then", ""),
    }
    if request.method != "POST":
        return respond(request, "shelf/bag_short.html", "", context)
    try:
        tray = Tray.objects.filter(code=request.POST.get("tray", "")).first()
        if tray is None:
            raise BadInput("Which tray does it come from?", field="tray")
        move = bag_short(tray=tray, component=part, **tap(request))
    except ShopError as error:
        return refused(request, error, "shelf/bag_short.html", "", context)
    messages.success(
        request,
        format_html(
            'One {} from {} for {}. <a href="{}">Look, or undo it</a>',
            tray.size,
            tray.code,
            code,
            reverse("log-entry", args=[move.client_id]),
        ),
    )
    then = request.POST.get("then", "")
    is_ours = url_has_allowed_host_and_scheme(then, allowed_hosts=None)
    return redirect(then if then and is_ours else reverse("component", args=[code]))


def trays_for(part: Component) -> list[TrayFact]:
    """The trays, those of the sizes that hold this part first."""
    threads = {thread_of(fastening.size) for fastening in part.fastenings.all()}
    return sorted(tray_facts(), key=lambda tray: thread_of(tray.size) not in threads)


def _back(request: HttpRequest, code: str) -> HttpResponse:
    then = request.POST.get("then", "")
    is_ours = url_has_allowed_host_and_scheme(then, allowed_hosts=None)
    if then and is_ours:
        return redirect(then)
    return redirect("shelf-thing", code)
