"""What is said of an order: sent, not sent after all, slipped, given up."""

from __future__ import annotations

from datetime import date, timedelta
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone

from fabshop import clock
from fabshop.actions.order import (
    give_up_order,
    mark_sent,
    promise,
    refuse_impossible_days,
    take_back_sending,
)
from fabshop.errors import ShopError
from fabshop.reckoning.facts import Facts
from fabshop.reckoning.landing import ordered_on
from fabshop.reckoning.planning.slipped import slip_in_plan
from fabshop.reckoning.slip import effect_of_slip
from fabshop.records.order import Order
from fabshop.snapshot import take
from fabshop.snapshot.kept_plan import kept_plan
from fabshop.web.gate import for_owner
from fabshop.web.order import Coming, coming, planned_starts
from fabshop.web.respond import Context, refused, respond
from fabshop.web.tap import tap
from fabshop.web.typed import Typed

# The keys of Slipped: how far the day that stands is moved.
SLIPS = (("1", "+1 day"), ("3", "+3 days"), ("7", "+1 week"))


@for_owner
def order_sent(request: HttpRequest, code: str) -> HttpResponse:
    """I sent the file, or it turns out that I did not."""
    order = get_object_or_404(Order.objects.select_related("supplier"), code=code)
    context = _context(order)
    if request.method != "POST":
        return respond(request, "order/sent.html", "", context)
    try:
        if request.POST.get("not_sent"):
            take_back_sending(order=order, **tap(request))
            messages.info(request, f"{code} was not sent after all; the ball is yours.")
        else:
            form = Typed(request)
            on = form.day("on", "Sent on") or timezone.localdate(clock.now())
            revision = form.text("revision", "Revision", most=12)
            form.refuse_if_wrong()
            mark_sent(
                order=order,
                on=on,
                revision=revision,
                confirm=bool(request.POST.get("confirm")),
                **tap(request),
            )
            messages.info(request, f"{code} is sent: the lead clock runs.")
    except ShopError as error:
        return refused(request, error, "order/sent.html", "", context)
    return redirect("order", code)


@for_owner
def order_slipped(request: HttpRequest, code: str) -> HttpResponse:
    """Another word on its day: what that does is said before it is saved."""
    order = get_object_or_404(Order.objects.select_related("supplier"), code=code)
    context = _context(order)
    if request.method != "POST":
        return respond(request, "order/slipped.html", "", context)
    try:
        eta_on, latest_on, said = _word(request, context["row"])
        context |= {"eta_on": eta_on, "latest_on": latest_on, "said": said}
        if request.POST.get("do") != "save":
            refuse_impossible_days(order, eta_on, latest_on, said)
            word = {"eta_on": eta_on, "latest_on": latest_on, "said": said}
            context["effect"] = _effect(context["facts"], code, word)
            return respond(request, "order/slipped.html", "", context)
        promise(
            order=order, eta_on=eta_on, latest_on=latest_on, said=said, **tap(request)
        )
        messages.info(request, "Kept. The words before it stay in its history.")
    except ShopError as error:
        return refused(request, error, "order/slipped.html", "", context)
    return redirect("order", code)


def _effect(facts: Facts, code: str, word: dict[str, Any]) -> tuple[str, ...]:
    """What the word does: by the kept plan where there is one, then to each task."""
    kept = kept_plan(facts)
    if kept is None:
        return effect_of_slip(facts, code, planned=planned_starts(), **word)
    by_plan = slip_in_plan(facts, kept.story, code, shift=kept.shift, **word)
    # Its own opening sentence goes by pack-out alone, and would say otherwise.
    lead, *told = effect_of_slip(facts, code, **word)
    return (*by_plan, *told) if by_plan else (lead, *told)


@for_owner
def order_give_up(request: HttpRequest, code: str) -> HttpResponse:
    order = get_object_or_404(Order.objects.select_related("supplier"), code=code)
    context = _context(order)
    if request.method != "POST":
        return respond(request, "order/give_up.html", "", context)
    try:
        give_up_order(
            order=order, confirm=bool(request.POST.get("confirm")), **tap(request)
        )
    except ShopError as error:
        return refused(request, error, "order/give_up.html", "", context)
    return redirect("order", code)


def _context(order: Order) -> Context:
    facts = take(clock.now())
    known = facts.order_by_id.get(order.code)
    return {
        "now": clock.now(),
        "order": order,
        "facts": facts,
        "row": coming(facts, [known])[0] if known else None,
        "landing": (
            ordered_on(facts, known, facts.now.date())
            if known and not order.sent_on
            else None
        ),
        "slips": SLIPS,
        "today": timezone.localdate(clock.now()),
    }


def _word(
    request: HttpRequest, row: Coming | None
) -> tuple[date | None, date | None, str]:
    """The day that was tapped or written, the latest, and the firm's own words."""
    form = Typed(request)
    eta_on = form.day("eta_on", "Comes on")
    latest_on = form.day("latest_on", "At the latest")
    said = form.text("said", "Their words", most=120)
    later = form.whole("later", "Days later")
    stands_on = row.eta_on if row else None
    if later and eta_on is None and stands_on:
        eta_on = stands_on + timedelta(days=later)
    if eta_on is None and not said:
        form.wrong("eta_on", "Comes on: nothing is written. Tap a key or give a day.")
    form.refuse_if_wrong()
    return eta_on, latest_on, said
