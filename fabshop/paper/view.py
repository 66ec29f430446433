"""Serves a sheet as a page or as PDF to whoever is signed in."""

from __future__ import annotations

from collections.abc import Callable

from django.conf import settings
from django.contrib.auth.decorators import login_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from fabshop.errors import BadInput, ShopError
from fabshop.paper.sheet import PAPERS, Sheet

SHEET_MADE_OF = Callable[..., Sheet]


def as_page(make: SHEET_MADE_OF) -> Callable[..., HttpResponse]:
    """A view that shows the sheet as HTML; the browser can print it too."""

    @login_required
    @require_safe
    def page(request: HttpRequest, **named: str | int) -> HttpResponse:
        try:
            return HttpResponse(make(**named).html(base_url=_base_url(request)))
        except ShopError as refusal:
            return _refused(request, refusal)

    return page


def as_pdf(make: SHEET_MADE_OF) -> Callable[..., HttpResponse]:
    """A view that answers with the sheet as PDF, on `?paper=a4` or `letter`."""

    @login_required
    @require_safe
    def page(request: HttpRequest, **named: str | int) -> HttpResponse:
        paper = request.GET.get("paper", "a4")
        try:
            if paper not in PAPERS:
                raise BadInput(
                    f"Paper: “{paper[:20]}” is not known. Choose a4 or letter.",
                    field="paper",
                )
            sheet = make(**named)
            made = sheet.pdf(base_url=_base_url(request), paper=paper)
        except ShopError as refusal:
            return _refused(request, refusal)
        except RuntimeError:
            # The worker could not load or run what makes PDF.
            sentence = (
                "PDF is off here: the Pango library is missing or does not load. "
                "Print this sheet from its page instead."
            )
            return render(request, "paper/off.html", {"sentence": sentence}, status=503)
        answer = HttpResponse(made, content_type="application/pdf")
        answer["Content-Disposition"] = f'inline; filename="{sheet.filename}.pdf"'
        return answer

    return page


def _base_url(request: HttpRequest) -> str:
    fixed = getattr(settings, "BASE_URL", "")
    return fixed or request.build_absolute_uri("/")


def _refused(request: HttpRequest, refusal: ShopError) -> HttpResponse:
    return render(
        request,
        "paper/off.html",
        {"sentence": refusal.message},
        status=refusal.status,
    )
