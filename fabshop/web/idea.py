"""The Chalk wall: lines that no plan knows of, weighed before they are taken up."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from fabshop import clock
from fabshop.actions.idea import Wanted, add_idea, promote_idea, weigh_idea, wipe_idea
from fabshop.errors import BadInput, ShopError
from fabshop.records.build import Build
from fabshop.records.idea import Idea
from fabshop.records.log import LogEntry
from fabshop.records.order import Supplier
from fabshop.records.task import Task
from fabshop.web.gate import for_owner, for_writers, signed_in
from fabshop.web.photo import keep_photos
from fabshop.web.respond import refused, respond
from fabshop.web.tap import said, tap
from fabshop.web.typed import Typed

MOST_SHOWN = 200


@signed_in
def chalk_wall(request: HttpRequest) -> HttpResponse:
    context = _wall()
    if request.method != "POST":
        return respond(request, "idea/wall.html", "", context)
    return _add(request, context)


@for_writers
def _add(request: HttpRequest, context: dict[str, Any]) -> HttpResponse:
    try:
        slug = request.POST.get("build", "").replace("\0", "")
        build = Build.objects.live().filter(slug=slug).first()
        kept = add_idea(text=request.POST.get("text", ""), build=build, **tap(request))
    except ShopError as error:
        return refused(request, error, "idea/wall.html", "", context)
    try:
        # From the note's form there may be a photo; a phone sends it afterwards.
        keep_photos(request, entry=LogEntry.objects.get(client_id=kept.client_id))
    except ShopError as error:
        messages.warning(request, f"Your words are kept, the photo is not. {error}")
    messages.success(request, "On the wall. The plan does not move.")
    return redirect("chalk-wall")


@for_owner
def idea(request: HttpRequest, pk: int) -> HttpResponse:
    """Ask hours, points and days, show what it displaces, and only then take it up."""
    kept = get_object_or_404(Idea.objects.select_related("build", "person"), pk=pk)
    context = {
        "now": clock.now(),
        "idea": kept,
        "suppliers": [
            ("", "nobody yet"),
            *Supplier.objects.values_list("code", "name"),
        ],
        "code": _free_code(),
    }
    if request.method != "POST":
        return respond(request, "idea/idea.html", "", context)
    try:
        wanted = _wanted(request)
        if "take_up" not in request.POST:
            told = weigh_idea(idea=kept, wanted=wanted, **said(request))
            more = {"told": told, "typed": request.POST}
            return respond(request, "idea/idea.html", "", context | more)
        code = request.POST.get("supplier", "").replace("\0", "")
        supplier = Supplier.objects.filter(code=code).first()
        taken = promote_idea(
            idea=kept, wanted=wanted, supplier=supplier, **tap(request)
        )
    except ShopError as error:
        return refused(request, error, "idea/idea.html", "", context)
    messages.success(request, f"{taken.task} is a task now. Ask for the plan again.")
    return redirect("task", wanted.code)


@require_POST
@for_writers
def idea_wipe(request: HttpRequest, pk: int) -> HttpResponse:
    wipe_idea(idea=get_object_or_404(Idea, pk=pk), **said(request))
    messages.info(request, "Wiped off. It stays in the log.")
    return redirect("chalk-wall")


def _wanted(request: HttpRequest) -> Wanted:
    form = Typed(request)
    minutes = form.minutes("minutes", "Hands-on")
    wanted = Wanted(
        code=form.needed("code", "Code", most=40),
        title=form.needed("title", "What", most=160),
        minutes=minutes or 0,
        points=form.points("points", "Points"),
        lead_days=form.whole("lead_days", "Days") or 0,
        family=form.text("family", "Family", most=40) or "other",
    )
    form.refuse_if_wrong()
    if minutes is None:
        raise BadInput("Hands-on: how long does it take?", field="minutes")
    return wanted


def _wall() -> dict[str, Any]:
    ideas = Idea.objects.on_the_wall().select_related("person", "build")
    return {
        "now": clock.now(),
        "ideas": ideas[:MOST_SHOWN],
        "builds": [("", "none yet"), *Build.objects.live().values_list("slug", "name")],
    }


def _free_code() -> str:
    """The next W number that no task has had."""
    taken = set(
        Task.objects.filter(code__startswith="W").values_list("code", flat=True)
    )
    numbers = [int(code[1:]) for code in taken if code[1:].isdecimal()]
    return f"W{max(numbers, default=0) + 1:02}"
