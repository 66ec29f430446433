"""One answer of this face: a page, its fragment, or what was refused and why."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from fabshop import clock
from fabshop.actions.log import keep_draft
from fabshop.errors import ShopError
from fabshop.web.tap import tapped_at

Context = dict[str, Any]
LATE = timedelta(minutes=2)
OF_THE_TAP = {"csrfmiddlewaretoken", "client_id", "at", "sent_at", "draft"}


def respond(
    request: HttpRequest,
    page: str,
    fragment: str,
    context: Context | None = None,
    *,
    status: int = 200,
) -> HttpResponse:
    """Answer htmx with the fragment and everybody else with the whole page."""
    htmx = request.htmx
    is_whole = htmx.boosted or htmx.history_restore_request
    wants_part = bool(fragment and htmx and not is_whole)
    template = f"web/{fragment if wants_part else page}"
    response = render(request, template, context, status=status)
    response.headers["Vary"] = "HX-Request, Cookie"
    return response


def refused(
    request: HttpRequest,
    error: ShopError,
    page: str = "refused.html",
    fragment: str = "",
    context: Context | None = None,
) -> HttpResponse:
    """Show the form again, what was typed in it and the sentence; keep a draft."""
    kept, draft = kept_fields(request), None
    now = clock.now()
    # A lone tap is shown its refusal; one that comes in late has nobody looking on.
    is_late = "X-Kept" in request.headers and now - tapped_at(request, now) > LATE
    is_worth = is_late or any(any(values) for values in kept.values())
    if request.user.is_authenticated and is_worth:
        path = request.get_full_path()
        draft = keep_draft(
            by=request.user, path=path, payload=kept, error=error, now=now
        )
    request.draft = draft
    known = {"error": error, "typed": request.POST, "kept": kept, "draft": draft}
    merged = {**(context or {}), **known}
    return respond(request, page, fragment, merged, status=error.status)


def kept_fields(request: HttpRequest) -> dict[str, list[str]]:
    """What was typed, as it may be kept: no secrets, nothing of the tap alone."""
    of_tap, typed = OF_THE_TAP, request.POST.lists()
    return {k: v for k, v in typed if k not in of_tap and "password" not in k}
