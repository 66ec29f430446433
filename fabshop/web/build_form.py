"""Getting a build in: its name and days, and a copy of one as another's start."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils.text import slugify
from django.views.decorators.http import require_POST

from fabshop import clock
from fabshop.actions.build import add_build, change_build, close_build, copy_build
from fabshop.errors import ShopError
from fabshop.records.build import Build
from fabshop.web.gate import for_owner
from fabshop.web.respond import refused, respond
from fabshop.web.tap import said
from fabshop.web.typed import Typed


@for_owner
def build_new(request: HttpRequest) -> HttpResponse:
    context = {"now": clock.now(), "build": None}
    if request.method != "POST":
        return respond(request, "build/form.html", "", context)
    try:
        form = Typed(request)
        names = _names(form)
        fields = _fields(form)
        form.refuse_if_wrong()
        build = add_build(**names, **fields, **said(request))
    except ShopError as error:
        return refused(request, error, "build/form.html", "", context)
    messages.info(request, f"{build} is made. Now what sits on it.")
    return redirect("component-new", build.slug)


@for_owner
def build_change(request: HttpRequest, slug: str) -> HttpResponse:
    build = get_object_or_404(Build, slug=slug)
    context = {"now": clock.now(), "build": build}
    if request.method != "POST":
        return respond(request, "build/form.html", "", context)
    try:
        form = Typed(request)
        name = form.needed("name", "Name", most=80)
        fields = _fields(form)
        form.refuse_if_wrong()
        change_build(build=build, name=name, **fields, **said(request))
    except ShopError as error:
        return refused(request, error, "build/form.html", "", context)
    return redirect("build-fitted", slug)


@for_owner
def build_copy(request: HttpRequest, slug: str) -> HttpResponse:
    """Components, covers, twins and tasks as they are; nothing of their past."""
    build = get_object_or_404(Build, slug=slug)
    context = {"now": clock.now(), "build": build}
    if request.method != "POST":
        return respond(request, "build/copy.html", "", context)
    try:
        form = Typed(request)
        names = _names(form)
        form.refuse_if_wrong()
        made = copy_build(build=build, **names, **said(request))
    except ShopError as error:
        return refused(request, error, "build/copy.html", "", context)
    messages.info(
        request, f"{made} starts as {build} is built, with nothing of its past."
    )
    return redirect("build-fitted", made.slug)


@require_POST
@for_owner
def build_close(request: HttpRequest, slug: str) -> HttpResponse:
    build = close_build(build=get_object_or_404(Build, slug=slug), **said(request))
    messages.info(request, f"{build} is closed. It can still be read.")
    return redirect("build-list")


def _names(form: Typed) -> dict[str, str]:
    name = form.needed("name", "Name", most=80)
    return {
        "name": name,
        "letter": form.needed("letter", "Letter", most=4),
        "slug": form.text("slug", "Short name", most=40) or slugify(name)[:40],
    }


def _fields(form: Typed) -> dict[str, Any]:
    return {
        "class_name": form.text("class_name", "Class", most=80),
        "event_name": form.text("event_name", "Event", most=120),
        "event_on": form.day("event_on", "Day of the event"),
        "pack_out_at": form.moment("pack_out_at", "Pack-out closes"),
    }
