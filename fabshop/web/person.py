"""The people of the shop: who may sign in, as what, and the link that lets them in."""

from __future__ import annotations

import segno
from django.contrib import messages
from django.contrib.auth import update_session_auth_hash
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils.safestring import mark_safe
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST

from fabshop import clock, words
from fabshop.actions.shop import (
    add_person,
    bring_back_person,
    make_sign_in_link,
    retire_person,
    set_password,
)
from fabshop.errors import BadInput, ShopError
from fabshop.records.shop import Person
from fabshop.web.gate import for_owner, signed_in
from fabshop.web.respond import refused, respond
from fabshop.web.tap import said

LINK_HOURS = 24


@signed_in
def people(request: HttpRequest) -> HttpResponse:
    context = {
        "now": clock.now(),
        "here": Person.objects.filter(is_active=True),
        "gone": Person.objects.filter(is_active=False),
    }
    return respond(request, "shop/people.html", "", context)


@for_owner
def person_add(request: HttpRequest) -> HttpResponse:
    context = {"now": clock.now(), "roles": words.Role.choices()}
    if request.method != "POST":
        return respond(request, "shop/person_add.html", "", context)
    try:
        person = add_person(
            name=request.POST.get("name", ""),
            role=request.POST.get("role", ""),
            password=request.POST.get("password") or None,
            **said(request),
        )
    except ShopError as error:
        return refused(request, error, "shop/person_add.html", "", context)
    messages.success(request, f"{person.name} may sign in as {person.role}.")
    return redirect("people")


@never_cache
@require_POST
@for_owner
def person_link(request: HttpRequest, pk: int) -> HttpResponse:
    """Show a fresh link once; only its hash is kept, so it cannot be shown again."""
    person = get_object_or_404(Person, pk=pk)
    token = make_sign_in_link(person=person, now=clock.now(), hours=LINK_HOURS)
    address = request.build_absolute_uri(reverse("sign-in-link", args=[token]))
    context = {
        "now": clock.now(),
        "person": person,
        "address": address,
        "qr": qr(address),
        "hours": LINK_HOURS,
    }
    return respond(request, "shop/person_link.html", "", context)


@require_POST
@for_owner
def person_retire(request: HttpRequest, pk: int) -> HttpResponse:
    person = retire_person(person=get_object_or_404(Person, pk=pk), **said(request))
    messages.info(request, f"{person.name} no longer signs in. What they logged stays.")
    return redirect("people")


@require_POST
@for_owner
def person_back(request: HttpRequest, pk: int) -> HttpResponse:
    person = bring_back_person(person=get_object_or_404(Person, pk=pk), **said(request))
    messages.info(request, f"{person.name} may sign in again.")
    return redirect("people")


@signed_in
def password(request: HttpRequest) -> HttpResponse:
    context = {"now": clock.now()}
    if request.method != "POST":
        return respond(request, "shop/password.html", "", context)
    try:
        _set_own_password(request)
    except ShopError as error:
        return refused(request, error, "shop/password.html", "", context)
    messages.success(request, "Your new password is set.")
    return redirect("people")


def qr(address: str) -> str:
    """The address as an SVG that a phone's own camera opens."""
    return mark_safe(  # made here from modules alone, nothing typed comes through
        segno.make(address, error="m").svg_inline(
            omitsize=True, svgclass=None, lineclass=None, border=4
        )
    )


def _set_own_password(request: HttpRequest) -> None:
    chosen = request.POST.get("password", "")
    if chosen != request.POST.get("password_again", ""):
        raise BadInput(
            "The two are not the same. Type the new password twice.",
            field="password_again",
        )
    now_used = request.POST.get("password_now", "")
    # Who came in by a link has none yet and sets the first one.
    if request.user.has_usable_password() and not request.user.check_password(now_used):
        raise BadInput("That is not your password now.", field="password_now")
    set_password(person=request.user, password=chosen, **said(request))
    update_session_auth_hash(request, request.user)
