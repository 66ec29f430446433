"""Getting a task in: what it is, its guess and points, and what it comes after."""

from __future__ import annotations

from typing import Any

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse

from fabshop import clock
from fabshop.actions.schedule import set_may_help
from fabshop.actions.task import add_task, change_task, set_after
from fabshop.errors import ShopError
from fabshop.records.build import Build
from fabshop.records.task import Task
from fabshop.web.gate import for_owner
from fabshop.web.respond import Context, refused, respond
from fabshop.web.tap import said
from fabshop.web.typed import Typed

# More than this are not ticked in a list but written by their codes.
MOST_TO_TICK = 200


@for_owner
def task_new(request: HttpRequest, slug: str) -> HttpResponse:
    build = get_object_or_404(Build, slug=slug)
    context = {**_context(None), "build": build}
    if request.method != "POST":
        return respond(request, "task/form.html", "", context)
    try:
        form = Typed(request)
        code = form.needed("code", "Code", most=40)
        fields = _fields(form)
        whose = None if form.is_ticked("is_shared") else build
        form.refuse_if_wrong()
        may_help = form.is_ticked("may_help")
        with transaction.atomic():
            task = add_task(code=code, build=whose, **fields, **said(request))
            set_may_help(task=task, may_help=may_help, **said(request))
    except ShopError as error:
        return refused(request, error, "task/form.html", "", context)
    return redirect(reverse("task-after", args=[task.code]) + "?new=1")


@for_owner
def task_change(request: HttpRequest, code: str) -> HttpResponse:
    task = get_object_or_404(
        Task.objects.select_related("build").prefetch_related("estimates"), code=code
    )
    context = {**_context(task), "build": task.build}
    if request.method != "POST":
        return respond(request, "task/form.html", "", context)
    try:
        form = Typed(request)
        fields = _fields(form)
        version = form.whole("version", "Version") or 0
        form.refuse_if_wrong()
        may_help = form.is_ticked("may_help")
        with transaction.atomic():
            change_task(task=task, version=version, **fields, **said(request))
            set_may_help(task=task, may_help=may_help, **said(request))
    except ShopError as error:
        return refused(request, error, "task/form.html", "", context)
    return redirect("task", code)


@for_owner
def task_after(request: HttpRequest, code: str) -> HttpResponse:
    """What must be done and cured before it; a loop is refused in words."""
    task = get_object_or_404(
        Task.objects.select_related("build").prefetch_related("afters__before"),
        code=code,
    )
    before = [after.before.code for after in task.afters.all()]
    others = list(
        Task.objects.filter(build=task.build).exclude(pk=task.pk)[: MOST_TO_TICK + 1]
    )
    if len(others) > MOST_TO_TICK:
        others = []
    codes = Typed(request).codes("after") if request.method == "POST" else before
    shown = {other.code for other in others}
    context = {
        "now": clock.now(),
        "task": task,
        "others": others,
        "codes": codes,
        "beside": " ".join(c for c in codes if c not in shown),
        "is_new": "new" in request.GET,
    }
    if request.method != "POST":
        return respond(request, "task/after.html", "", context)
    try:
        set_after(task=task, after=codes, **said(request))
    except ShopError as error:
        return refused(request, error, "task/after.html", "", context)
    return next_screen(request, task, "task-needs")


def next_screen(request: HttpRequest, task: Task, then: str) -> HttpResponse:
    """On to the next question where the task is new, else back to its page."""
    if "new" in request.GET:
        return redirect(reverse(then, args=[task.code]) + "?new=1")
    return redirect("task", task.code)


def _context(task: Task | None) -> Context:
    families = Task.objects.order_by("family").values_list("family", flat=True)
    guesses = list(task.estimates.all()) if task else []
    return {
        "now": clock.now(),
        "task": task,
        "families": list(families.distinct()[:50]),
        "guess": guesses[-1].minutes if guesses else "",
    }


def _fields(form: Typed) -> dict[str, Any]:
    return {
        "title": form.needed("title", "What", most=160),
        "family": form.text("family", "Family", most=40) or "other",
        "minutes": form.minutes("minutes", "Hands-on"),
        "points": form.points("points", "Points"),
        "is_required": form.is_ticked("is_required"),
        "is_hold": form.is_ticked("is_hold"),
        "is_unbroken": form.is_ticked("is_unbroken"),
        "is_closed_up": form.is_ticked("is_closed_up"),
        "is_for_good": form.is_ticked("is_for_good"),
        "is_noisy": form.is_ticked("is_noisy"),
        "in_teardown": form.is_ticked("in_teardown"),
        **({"confirm": True} if form.is_ticked("confirm") else {}),
    }
