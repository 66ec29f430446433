"""The pit: one page a build, every part's way in on it, so that it opens unplugged."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from fabshop import clock
from fabshop.actions.packout import broke
from fabshop.records.build import Build, Component
from fabshop.snapshot import take
from fabshop.snapshot.packout import pit_cards
from fabshop.web.gate import for_writers, signed_in
from fabshop.web.respond import respond
from fabshop.web.tap import tap


@signed_in
def pit_list(request: HttpRequest) -> HttpResponse:
    """The build whose event is next, and a way to the others: no tap is lost on it."""
    builds = list(Build.objects.live().order_by("event_on", "pk"))
    first = next((one for one in builds if one.event_on), builds[0] if builds else None)
    if first is None:
        return respond(request, "pit/list.html", "", {"now": clock.now()})
    return _page(request, first)


@signed_in
def pit(request: HttpRequest, slug: str) -> HttpResponse:
    return _page(request, get_object_or_404(Build.objects.live(), slug=slug))


def _page(request: HttpRequest, build: Build) -> HttpResponse:
    at = clock.now()
    cards = pit_cards(take(at), build.slug)
    context = {
        "now": at,
        "build": build,
        "builds": Build.objects.live().order_by("event_on", "pk"),
        "cards": sorted(cards, key=lambda card: card.component.name.lower()),
    }
    return respond(request, "pit/pit.html", "", context)


@require_POST
@for_writers
def component_broke(request: HttpRequest, code: str) -> HttpResponse:
    component = get_object_or_404(Component.objects.select_related("build"), code=code)
    broke(component=component, text=request.POST.get("text", ""), **tap(request))
    messages.success(request, f"Logged: {component} broke.")
    return redirect(f"{reverse('pit', args=[component.build.slug])}#{code}")
