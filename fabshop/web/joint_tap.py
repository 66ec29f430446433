"""The taps on a joint slip: steps, states, the colour call, accept and reject."""

from __future__ import annotations

from collections.abc import Callable
from decimal import Decimal, InvalidOperation
from functools import wraps
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from fabshop import words
from fabshop.actions.joint import (
    accept_joint,
    call_colour,
    move_joint,
    reject_joint,
    strip_cover,
    tick_step,
)
from fabshop.errors import BadInput, ShopError
from fabshop.records.joint import Joint, JointCover
from fabshop.web.gate import for_writers
from fabshop.web.joint import refused_slip
from fabshop.web.respond import refused
from fabshop.web.tap import said, tap
from fabshop.web.typed import Typed

Act = Callable[[HttpRequest, Joint], Joint]
_FIGURE_LENGTH = 12


def _tapped(form: str) -> Callable[[Act], Callable[..., HttpResponse]]:
    """A tap on the slip: back to it when done, the slip with the refusal when not."""

    def decorate(act: Act) -> Callable[..., HttpResponse]:
        @require_POST
        @for_writers
        @wraps(act)
        def view(request: HttpRequest, code: str) -> HttpResponse:
            joint = get_object_or_404(Joint, code=code)
            try:
                act(request, joint)
            except ShopError as error:
                return refused_slip(request, joint, error, form)
            return redirect("joint", code=code)

        return view

    return decorate


@_tapped("steps")
def joint_step(request: HttpRequest, joint: Joint) -> Joint:
    form = Typed(request)
    number = form.whole("number", "Step")
    minutes = form.minutes("minutes", "Minutes") if form.raw("minutes") else None
    value = _figure(form)
    form.refuse_if_wrong()
    return tick_step(
        joint=joint,
        number=number or 0,
        is_done=form.raw("do") != "not",
        minutes=minutes,
        value=value,
        **tap(request),
    )


@_tapped("state")
def joint_state(request: HttpRequest, joint: Joint) -> Joint:
    moved = move_joint(
        joint=joint,
        state=request.POST.get("state", ""),
        reason=request.POST.get("reason", ""),
        seen_version=_seen(request),
        **tap(request),
    )
    label = words.JointState(moved.state).label
    told = f"{moved.code} is {label}."
    twin = moved.twin
    if twin is not None and moved.state == "welded" and twin.state != "welded":
        told += f" Next: its twin {twin}."
    messages.info(request, told)
    return moved


@_tapped("colour")
def joint_colour(request: HttpRequest, joint: Joint) -> Joint:
    called = call_colour(
        joint=joint,
        colour=request.POST.get("colour", ""),
        verdict=request.POST.get("verdict", ""),
        reason=request.POST.get("reason", ""),
        third=request.POST.get("third", ""),
        **tap(request),
    )
    if called.state == words.JointState.REWORK:
        twin = called.twin
        also = f" Look at its twin {twin} again." if twin and twin.inspect_why else ""
        messages.info(request, f"{called.code} is rework {called.reworks}.{also}")
    else:
        messages.info(request, "The colour is called good, before any brush.")
    return called


@_tapped("accept")
def joint_accept(request: HttpRequest, joint: Joint) -> Joint:
    accepted = accept_joint(
        joint=joint,
        looked=request.POST.get("looked", ""),
        waive_colour=request.POST.get("waive_colour", ""),
        seen_version=_seen(request),
        **tap(request),
    )
    messages.info(request, f"{accepted.code} is accepted. It may be painted over.")
    return accepted


@_tapped("reject")
def joint_reject(request: HttpRequest, joint: Joint) -> Joint:
    rejected = reject_joint(
        joint=joint,
        reason=request.POST.get("reason", ""),
        third=request.POST.get("third", ""),
        seen_version=_seen(request),
        **tap(request),
    )
    messages.info(request, f"{rejected.code} is rework {rejected.reworks}.")
    return rejected


@require_POST
@for_writers
def joint_strip(request: HttpRequest, pk: int) -> HttpResponse:
    cover = get_object_or_404(JointCover.objects.select_related("joint"), pk=pk)
    try:
        strip_cover(cover=cover, reason=request.POST.get("reason", ""), **said(request))
    except ShopError as error:
        return refused(request, error)
    return redirect("joint", code=cover.joint.code)


def _seen(request: HttpRequest) -> int | None:
    seen: Any = request.POST.get("seen_version", "")
    return int(seen) if seen.isdecimal() and len(seen) < 9 else None


def _figure(form: Typed) -> Decimal | None:
    text = form.raw("value").replace(",", ".")
    if not text:
        return None
    try:
        if len(text) > _FIGURE_LENGTH:
            raise InvalidOperation
        return Decimal(text)
    except InvalidOperation:
        raise BadInput(
            f"Figure: “{text[:20]}” is not a figure like 0,3.", field="value"
        ) from None
