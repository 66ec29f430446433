"""Sign in by name and password, by a link that works once, and sign out."""

from __future__ import annotations

from typing import Any

from django.contrib.auth import authenticate, login, logout
from django.core import signing
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST

from fabshop import clock
from fabshop.actions.shop import use_sign_in_link
from fabshop.errors import BadInput, NotAllowed, ShopError
from fabshop.records.shop import Person
from fabshop.web.respond import kept_fields, refused, respond

BACKEND = "django.contrib.auth.backends.ModelBackend"
DAY_S = 24 * 60 * 60


@never_cache
def sign_in(request: HttpRequest) -> HttpResponse:
    if request.method != "POST":
        if request.user.is_authenticated:
            return redirect(_next_page(request))
        return respond(request, "shop/sign_in.html", "", _behind(request))
    person = authenticate(
        request,
        username=request.POST.get("name", "").replace("\0", "").strip(),
        password=request.POST.get("password", ""),
    )
    if person is None:
        sentence = "No one here has that name with that password. Look at both again."
        return refused(
            request,
            BadInput(sentence, field="name"),
            "shop/sign_in.html",
            context=_behind(request),
        )
    return signed_in_as(request, person)


@never_cache
def sign_in_link(request: HttpRequest, token: str) -> HttpResponse:
    """Opening it shows a button, so that a preview of the link does not use it up."""
    if request.method != "POST":
        return respond(request, "shop/sign_in_link.html", "")
    try:
        person = use_sign_in_link(token=token, now=clock.now())
    except ShopError as error:
        return refused(request, error, "shop/sign_in_link.html")
    return signed_in_as(request, person)


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    logout(request)
    return redirect("sign-in")


def form_gone_stale(request: HttpRequest, reason: str = "") -> HttpResponse:
    """A form whose token ran out while the phone slept is offered again, filled.

    Only where the browser says that the form was this shop's own page.
    """
    came_from = request.headers.get("Origin") or request.headers.get("Referer", "")
    here = f"{request.scheme}://{request.get_host()}"
    if came_from != here and not came_from.startswith(f"{here}/"):
        return refused(request, NotAllowed("That form came from another site."))
    sent = {"path": request.get_full_path(), "kept": kept_fields(request)}
    response = respond(request, "shop/send_again.html", "", sent, status=403)
    response.headers["X-Form"] = "stale"
    return response


def signed_in_as(request: HttpRequest, person: Person) -> HttpResponse:
    """Open the session, then go where they were going, or offer what they typed."""
    login(request, person, backend=BACKEND)
    if carried := _carried(request.POST.get("carried", "")):
        return respond(request, "shop/send_again.html", "", carried)
    return redirect(_next_page(request))


def _behind(request: HttpRequest) -> dict[str, str]:
    """What waits behind the sign-in: the page, and what was typed on it."""
    return {"next": _next_page(request), "carried": request.POST.get("carried", "")}


def _carried(signed: str) -> dict[str, Any] | None:
    if not signed:
        return None
    try:
        return signing.loads(signed, salt="sign-in-first", max_age=DAY_S)
    except signing.BadSignature:
        return None


def _next_page(request: HttpRequest) -> str:
    asked = request.POST.get("next") or request.GET.get("next") or "/"
    is_ours = url_has_allowed_host_and_scheme(
        asked, allowed_hosts={request.get_host()}, require_https=request.is_secure()
    )
    return asked if is_ours else "/"
