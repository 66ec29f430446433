"""Who may open a page; a stranger is asked to sign in, a refusal becomes a sentence."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any
from urllib.parse import urlencode
from zoneinfo import ZoneInfo

from django.core import signing
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone

from fabshop.errors import NotAllowed, ShopError
from fabshop.records.shop import Shop
from fabshop.web.respond import kept_fields, refused, respond

View = Callable[..., HttpResponse]


def signed_in(view: View) -> View:
    """Open the page to the shop's people, in the shop's zone.

    A refusal that the view does not show at its own form is shown on a page of its own,
    with everything that was typed.
    """

    @wraps(view)
    def opened(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if not request.user.is_authenticated:
            return _ask_to_sign_in(request)
        shop = Shop.objects.first()
        request.shop = shop
        if shop is None and request.path != reverse("setup"):
            return _not_set_up(request)
        with timezone.override(ZoneInfo(shop.zone if shop else "UTC")):
            try:
                return view(request, *args, **kwargs)
            except ShopError as error:
                return refused(request, error)

    return opened


def for_owner(view: View) -> View:
    """Open the page to the owner only; others read why not."""

    @wraps(view)
    def opened(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if not request.user.is_owner:
            raise NotAllowed("Only the owner does that. Ask them to, on their phone.")
        return view(request, *args, **kwargs)

    return signed_in(opened)


def for_writers(view: View) -> View:
    """Open the page to the owner and the helpers; a viewer reads why not."""

    @wraps(view)
    def opened(request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponse:
        if not request.user.may_write:
            raise NotAllowed("You may look at everything here, but not write.")
        return view(request, *args, **kwargs)

    return signed_in(opened)


def _ask_to_sign_in(request: HttpRequest) -> HttpResponse:
    if request.method == "POST":
        # The session ran out while the form was open: what was typed is carried
        # through the sign-in and offered again behind it.
        carried = signing.dumps(
            {"path": request.get_full_path(), "typed": kept_fields(request)},
            salt="sign-in-first",
            compress=True,
        )
        return respond(
            request, "shop/sign_in.html", "", {"carried": carried}, status=403
        )
    asked = f"{reverse('sign-in')}?{urlencode({'next': request.get_full_path()})}"
    if request.htmx:
        return HttpResponse(headers={"HX-Redirect": asked})
    return HttpResponseRedirect(asked)


def _not_set_up(request: HttpRequest) -> HttpResponse:
    if request.user.is_owner:
        return redirect("setup")
    raise_page = NotAllowed("The owner has not set up the shop yet. Try again later.")
    return refused(request, raise_page)
