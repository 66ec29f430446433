"""Who may open a page; a stranger is asked to sign in, a refusal becomes a sentence."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta
from functools import wraps
from typing import Any
from urllib.parse import urlencode
from zoneinfo import ZoneInfo

from django.contrib import messages
from django.core import signing
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import redirect
from django.urls import reverse
from django.utils import timezone

from fabshop.actions.log import settle_draft
from fabshop.errors import NotAllowed, ShopError
from fabshop.records.log import Draft
from fabshop.records.shop import Shop
from fabshop.units import show_minutes
from fabshop.web.respond import kept_fields, refused, respond
from fabshop.web.tap import astray, said

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
            if request.method == "POST" and (off := astray(request)):
                messages.warning(request, _clock_sentence(off))
            try:
                response = view(request, *args, **kwargs)
            except ShopError as error:
                response = refused(request, error)
            _settle_sent_again(request)
            return response

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
            {"path": request.get_full_path(), "kept": kept_fields(request)},
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


def _settle_sent_again(request: HttpRequest) -> None:
    """A draft that was taken this time, or refused as another, waits no longer."""
    pk = request.POST.get("draft", "") if request.method == "POST" else ""
    newer = getattr(request, "draft", None)
    if not pk.isdecimal() or (newer is not None and newer.pk == int(pk[:9])):
        return
    mine = Draft.objects.filter(person=request.user, settled_at=None)
    if draft := mine.filter(pk=int(pk[:9])).first():
        settle_draft(draft=draft, **said(request))


def _clock_sentence(off: timedelta) -> str:
    how_far = show_minutes(int(abs(off).total_seconds()) // 60)
    way = "ahead" if off > timedelta(0) else "behind"
    return f"This phone's clock is {how_far} {way}. The shop's own time is kept."


def _not_set_up(request: HttpRequest) -> HttpResponse:
    if request.user.is_owner:
        return redirect("setup")
    sentence = "The owner has not set up the shop yet. Try again later."
    return refused(request, NotAllowed(sentence))
