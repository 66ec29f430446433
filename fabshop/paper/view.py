"""Serves a sheet as a page or as PDF to whoever is signed in."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps

from django.contrib.auth.decorators import login_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from fabshop.errors import BadInput, ShopError
from fabshop.paper.sheet import APRON, PAPERS, Sheet

MakesSheet = Callable[..., Sheet]
View = Callable[..., HttpResponse]


def as_page(make: MakesSheet, asks: tuple[str, ...] = ()) -> View:
    """A view that shows the sheet as HTML; the browser can print it too.

    What `asks` names is read from the address's query and handed on as text.
    """

    @_opened
    def page(request: HttpRequest, **named: str | int) -> HttpResponse:
        sheet = make(**named, **_asked(request, asks))
        return HttpResponse(sheet.html(base_url=_base_url(request)))

    return page


def as_pdf(make: MakesSheet, asks: tuple[str, ...] = ()) -> View:
    """A view that answers with the sheet as PDF, on `?paper=a4` or `letter`.

    `apron-a4` and `apron-letter` put two pages on one, to be folded for the apron.
    """

    @_opened
    def page(request: HttpRequest, **named: str | int) -> HttpResponse:
        paper = request.GET.get("paper", "a4")
        if paper.removeprefix(APRON) not in PAPERS:
            raise BadInput(
                f"Paper: “{paper[:20]}” is not known. Choose a4 or letter.",
                field="paper",
            )
        sheet = make(**named, **_asked(request, asks))
        made = sheet.pdf(base_url=_base_url(request), paper=paper)
        answer = HttpResponse(made, content_type="application/pdf")
        answer["Content-Disposition"] = f'inline; filename="{sheet.filename}.pdf"'
        return answer

    return page


def _opened(view: View) -> View:
    """For whoever is signed in; a refusal is a page with its sentence."""

    @wraps(view)
    @login_required
    @require_safe
    def opened(request: HttpRequest, **named: str | int) -> HttpResponse:
        try:
            return view(request, **named)
        except Http404:
            return _refused(request, "Nothing of that name is known here.", 404)
        except ShopError as refusal:
            return _refused(request, refusal.message, refusal.status)

    return opened


def _asked(request: HttpRequest, asks: tuple[str, ...]) -> dict[str, str]:
    return {name: request.GET.get(name, "")[:80] for name in asks}


def _base_url(request: HttpRequest) -> str:
    return request.build_absolute_uri("/")


def _refused(request: HttpRequest, sentence: str, status: int) -> HttpResponse:
    page = request.path.removesuffix(".pdf") + "/"
    has_page = request.path.endswith(".pdf") and status >= 500
    context = {"sentence": sentence, "page": page if has_page else ""}
    return render(request, "paper/off.html", context, status=status)
