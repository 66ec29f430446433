"""One step of a teardown on the phone: what to do, and the tick."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST, require_safe

from fabshop import clock, words
from fabshop.actions.plan import tick_step, tick_to
from fabshop.errors import BadInput, ShopError
from fabshop.reckoning.closing import shut_for_good
from fabshop.records.log import PhotoUse
from fabshop.records.plan import Plan, PlanStep
from fabshop.snapshot import take
from fabshop.web.gate import for_writers, signed_in
from fabshop.web.photo import keep_photos
from fabshop.web.plan_page import bar_over, plan_context
from fabshop.web.respond import Context, refused, respond
from fabshop.web.tap import answered, tap
from fabshop.web.templatetags.shop import moment
from fabshop.web.typed import Typed

SAY = {
    words.StepDo.REMOVE: "Off",
    words.StepDo.TASK: "Done",
    words.StepDo.REFIT: "On",
}


@signed_in
@require_safe
def plan_step(request: HttpRequest, pk: int, number: int) -> HttpResponse:
    step = _step(pk, number)
    return respond(request, "plan/step.html", "plan/_tick.html", _context(step))


@require_POST
@for_writers
def plan_tick(request: HttpRequest, pk: int) -> HttpResponse:
    """Tick one step, take a tick back, or tick all up to one."""
    form = Typed(request)
    number = form.whole("number", "Step") or 0
    form.refuse_if_wrong()
    step = _step(pk, number)
    try:
        if form.is_ticked("all_to"):
            tick_to(plan=step.plan, number=number, **tap(request), **answered(request))
        else:
            done = not form.is_ticked("not_done")
            tick_step(step=step, done=done, **tap(request), **answered(request))
    except ShopError as error:
        return refused(request, error, "plan/step.html", "", _context(step))
    if request.htmx:
        return respond(request, "plan/detail.html", "plan/_steps.html", _plan(pk))
    if request.POST.get("then") == "plan":
        return redirect("plan", pk)
    following = PlanStep.objects.filter(plan=pk, number__gt=number).first()
    if following is None:
        messages.info(request, "That was the last step.")
        return redirect("plan", pk)
    return redirect("plan-step", pk, following.number)


def _plan(pk: int) -> Context:
    return plan_context(Plan.objects.select_related("build").get(pk=pk))


def _step(pk: int, number: int) -> PlanStep:
    steps = PlanStep.objects.select_related("plan__build", "task", "component")
    return get_object_or_404(steps, plan=pk, number=number)


def _context(step: PlanStep) -> dict[str, Any]:
    plan = step.plan
    current = (
        Plan.objects.accepted().filter(build=plan.build_id, kind=plan.kind).first()
        if plan.state != words.PlanState.ACCEPTED
        else plan
    )
    last = plan.steps.last()
    tick = step.ticks.select_related("person").order_by("at", "id").last()
    return {
        "now": clock.now(),
        "plan": plan,
        "step": step,
        "does": words.StepDo(step.does),
        "say": SAY[words.StepDo(step.does)],
        "tick": tick,
        "done": tick is not None and tick.is_done,
        "last": last.number if last else step.number,
        "current": current,
        "step_now": _same_step(step, current),
        "fastenings": step.component.fastenings.all() if step.component else (),
        "photos": PhotoUse.objects.filter(step=step).select_related("photo"),
        **_about(step),
    }


def _same_step(step: PlanStep, current: Plan | None) -> PlanStep | None:
    """The step of the plan that does what this one of an old edition does."""
    if current is None or current.pk == step.plan_id:
        return None
    same = current.steps.filter(
        does=step.does, task=step.task_id, component=step.component_id
    )
    return same.first()


def _about(step: PlanStep) -> dict[str, Any]:
    facts = take(clock.now())
    task = facts.task_by_id.get(step.task.code) if step.task else None
    if task is None:
        return {"bar": "", "zone": "", "never_again": (), "needs": ()}
    cured = moment(step.cured_at)
    return {
        "bar": bar_over(task, facts, cured),
        "zone": " ".join(
            dict.fromkeys((*task.fits, *task.remove, *task.reach, *task.opens))
        ),
        "never_again": shut_for_good(task.fits, facts.components)
        if task.for_good
        else (),
        "needs": [
            {
                "line": need.name,
                "title": line.title,
                "here": not line.owed_milli,
            }
            for need in task.needs
            if (line := facts.line_by_id.get(need.name))
        ],
    }


@require_POST
@for_writers
def plan_step_photo(request: HttpRequest, pk: int, number: int) -> HttpResponse:
    step = _step(pk, number)
    try:
        if not request.FILES.getlist("photo"):
            raise BadInput("Choose a photo first.", field="photo")
        keep_photos(request, step=step)
    except ShopError as error:
        return refused(request, error, "plan/step.html", "", _context(step))
    return redirect("plan-step", pk, number)
