"""The plan of the shop: whether pack-out is made, then day by day who does what."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.views.decorators.http import require_POST, require_safe

from fabshop import clock
from fabshop.actions.schedule import ask_plan
from fabshop.errors import ShopError
from fabshop.records.schedule import ShopPlan
from fabshop.snapshot import take
from fabshop.snapshot.kept_plan import kept_plan
from fabshop.web.gate import for_writers, signed_in
from fabshop.web.respond import refused, respond
from fabshop.web.schedule_page import plan_page
from fabshop.web.tap import said


@signed_in
@require_safe
def schedule(request: HttpRequest) -> HttpResponse:
    at = clock.now()
    facts = take(at)
    kept = kept_plan(facts)
    context = {"now": at, "kept": kept, "is_empty": not facts.tasks}
    if kept is not None:
        context |= plan_page(kept, facts, at)
    return respond(request, "schedule/schedule.html", "", context)


@require_POST
@for_writers
def schedule_ask(request: HttpRequest) -> HttpResponse:
    """Plan again from how things stand; the plan before stays under its letter."""
    try:
        plan = ask_plan(**said(request))
    except ShopError as error:
        context = {"now": clock.now(), "kept": kept_plan(take(clock.now()))}
        return refused(request, error, "schedule/schedule.html", "", context)
    told = plan.change or "Nothing else was planned before."
    messages.success(request, f"Edition {plan.edition} is the plan now. {told}")
    return redirect("schedule")


@signed_in
@require_safe
def schedule_list(request: HttpRequest) -> HttpResponse:
    """Every plan ever asked for, the latest first, and what each changed."""
    plans = ShopPlan.objects.select_related("made_by").defer(
        "question", "answer", "late_question", "late_answer", "beside", "sure"
    )
    context = {"now": clock.now(), "plans": plans[:100]}
    return respond(request, "schedule/list.html", "", context)
