"""Tables: tried first, what is bad told by row and column, then taken or not."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect

from fabshop import clock
from fabshop.actions.intake import KINDS, as_text, kind_of, take_table
from fabshop.errors import BadInput, ShopError
from fabshop.web.gate import for_owner
from fabshop.web.respond import refused, respond
from fabshop.web.tap import said

# More bad cells than these nobody mends from a phone; the count is told.
MOST_TOLD = 200
ACCEPTS = {"all": "all", "good": "good"}


@for_owner
def intake_list(request: HttpRequest) -> HttpResponse:
    context = {"now": clock.now(), "kinds": KINDS.values()}
    return respond(request, "intake/list.html", "", context)


@for_owner
def intake(request: HttpRequest, noun: str) -> HttpResponse:
    """The table is carried through the trial in the page, so that nothing is kept."""
    context = {"now": clock.now(), "kind": kind_of(noun)}
    if request.method != "POST":
        return respond(request, "intake/table.html", "", context)
    try:
        content = _content(request)
        context["table"] = as_text(content)[0]
        taken = take_table(
            kind=noun,
            content=content,
            accept=ACCEPTS.get(request.POST.get("do", ""), ""),
            **said(request),
        )
    except ShopError as error:
        return refused(request, error, "intake/table.html", "", context)
    if taken.is_written:
        rows = f"{taken.good} row{'s' * (taken.good != 1)}"
        left = f"; {taken.bad_rows} left out" if taken.bad else ""
        messages.info(request, f"{rows} of {noun} taken in{left}.")
        return redirect("intake-list")
    context |= {
        "taken": taken,
        "bad": taken.bad[:MOST_TOLD],
        "more": max(0, len(taken.bad) - MOST_TOLD),
    }
    # A trial is an answer; being told to take all of a bad table is refused.
    status = 422 if request.POST.get("do") == "all" else 200
    return respond(request, "intake/table.html", "", context, status=status)


def _content(request: HttpRequest) -> bytes:
    file = request.FILES.get("file")
    if file is not None and file.size:
        return file.read()
    pasted = request.POST.get("table", "")
    if not pasted.strip():
        raise BadInput("No table: choose a file, or paste its rows.", field="file")
    return pasted.encode("utf-8", "replace")
