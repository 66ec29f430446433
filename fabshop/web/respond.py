"""One answer of this face: a page, its fragment, or what was refused and why."""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from fabshop.errors import ShopError

Context = dict[str, Any]


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
    """Show the form again with what was typed, the sentence at its field and, under
    an address of its own, the draft that keeps it."""
    known = {"error": error, "typed": request.POST, "kept": kept_fields(request)}
    return respond(
        request, page, fragment, {**(context or {}), **known}, status=error.status
    )


def kept_fields(request: HttpRequest) -> dict[str, list[str]]:
    """What was typed, as it may be kept: neither secrets nor the token."""
    return {
        name: values
        for name, values in request.POST.lists()
        if name != "csrfmiddlewaretoken" and "password" not in name
    }
