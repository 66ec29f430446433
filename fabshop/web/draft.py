"""Drafts: what was typed and refused, kept under its address until it is settled."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from fabshop import clock
from fabshop.actions.log import settle_draft
from fabshop.errors import NotAllowed
from fabshop.records.log import Draft
from fabshop.web.gate import signed_in
from fabshop.web.respond import respond
from fabshop.web.tap import said

MOST_SHOWN = 100


@signed_in
def draft_list(request: HttpRequest) -> HttpResponse:
    drafts = Draft.objects.filter(person=request.user, settled_at=None)
    context = {"now": clock.now(), "drafts": drafts[:MOST_SHOWN]}
    return respond(request, "draft/list.html", "", context)


@signed_in
def draft(request: HttpRequest, pk: int) -> HttpResponse:
    kept = _draft(request, pk)
    context = {
        "now": clock.now(),
        "draft": kept,
        # What a program sent is shown; only what a form sent can be sent again here.
        "fields": _fields(kept) if not kept.path.startswith("/api/") else None,
    }
    return respond(request, "draft/draft.html", "", context)


@require_POST
@signed_in
def draft_drop(request: HttpRequest, pk: int) -> HttpResponse:
    settle_draft(draft=_draft(request, pk), **said(request))
    messages.info(request, "Put aside. It stays kept under its address.")
    return redirect("draft-list")


def _draft(request: HttpRequest, pk: int) -> Draft:
    kept = get_object_or_404(Draft.objects.select_related("person"), pk=pk)
    if kept.person_id != request.user.pk and not request.user.is_owner:
        raise NotAllowed("That draft is somebody else's.")
    return kept


def _fields(kept: Draft) -> dict[str, list[str]]:
    return {
        str(name): [str(value) for value in values]
        for name, values in kept.payload.items()
        if isinstance(values, list)
    }
