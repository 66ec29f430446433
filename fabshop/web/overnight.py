"""Overnights: what to begin before leaving, what runs, and what it came to."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.utils import timezone
from django.views.decorators.http import require_POST

from fabshop import clock
from fabshop.actions.overnight import came_out, run_failed, start_run, still_going
from fabshop.errors import ShopError
from fabshop.reckoning.facts import Facts
from fabshop.reckoning.overnight import MachineNight, MachineRun, begun_today
from fabshop.records.overnight import Run
from fabshop.records.task import Task
from fabshop.snapshot import take
from fabshop.snapshot.kept_plan import KeptPlan, kept_plan
from fabshop.snapshot.nights import nights_of
from fabshop.units import show_day, show_moment
from fabshop.web.gate import for_writers, signed_in
from fabshop.web.respond import refused, respond
from fabshop.web.tap import tap
from fabshop.web.typed import Typed

LATELY = timedelta(days=14)
CAUSES = (
    "came off the bed",
    "nozzle blocked",
    "ran out",
    "power went",
    "something else",
)


@signed_in
def overnights(request: HttpRequest) -> HttpResponse:
    return respond(request, "overnight/list.html", "", _context())


@require_POST
@for_writers
def run_start(request: HttpRequest, code: str) -> HttpResponse:
    task = get_object_or_404(Task, code=code)
    try:
        run = start_run(
            task=task,
            reason=request.POST.get("reason", ""),
            confirm=bool(request.POST.get("confirm")),
            **tap(request),
        )
    except ShopError as error:
        context = {"now": clock.now(), "task": task}
        return refused(request, error, "overnight/start.html", "", context)
    messages.success(
        request, f"{run.machine.name} runs {task.code}. It asks you when it is due."
    )
    return redirect("overnights")


@for_writers
def run(request: HttpRequest, pk: int) -> HttpResponse:
    """One run: what it came to, by one tap, or how it failed."""
    kept = get_object_or_404(Run.objects.select_related("task", "machine"), pk=pk)
    context = {"now": clock.now(), "run": kept, "causes": CAUSES}
    if request.method != "POST":
        return respond(request, "overnight/run.html", "", context)
    try:
        _say(request, kept)
    except ShopError as error:
        return refused(request, error, "overnight/run.html", "", context)
    return redirect("overnights")


def _say(request: HttpRequest, kept: Run) -> None:
    typed = Typed(request)
    what = request.POST.get("what", "")
    if what == "good":
        came_out(run=kept, **tap(request))
        messages.success(request, f"{kept.task} came out.")
    elif what == "going":
        minutes = typed.minutes("minutes", "Minutes more") or 0
        typed.refuse_if_wrong()
        still_going(run=kept, minutes=minutes, **tap(request))
        messages.success(request, f"{kept.machine.name} still goes.")
    else:
        failed_at = typed.moment("failed_at", "Failed at")
        typed.refuse_if_wrong()
        cause = request.POST.get("cause_said", "") or request.POST.get("cause", "")
        run_failed(run=kept, cause=cause, failed_at=failed_at, **tap(request))
        messages.success(request, f"Logged. {kept.task} is open again.")


def machines_tonight(facts: Facts, kept: KeptPlan | None, now: datetime) -> list[str]:
    """For home: the runs to begin before today's last one leaves, and what is due."""
    runs = Run.objects.unsaid().filter(due_at__lte=now).select_related("machine")
    due = [
        f"{run.machine.name} was due {show_moment(timezone.localtime(run.due_at))}: "
        "what did it come to?"
        for run in runs
    ]
    runs_today = begun_today(nights_of(facts, kept, now), facts.now.date())
    soon = [run.sentence for run in runs_today]
    return due + ([f"Machines tonight: {' '.join(soon)}"] if soon else [])


def _context() -> dict[str, Any]:
    now = clock.now()
    facts = take(now)
    kept = kept_plan(facts)
    nights = nights_of(facts, kept, now)
    said = Run.objects.exclude(verdict="").filter(begun_at__gte=now - LATELY)
    quiet = [
        show_day(day.on)
        for day in facts.days
        if not day.may_run_machines and day.on >= facts.now.date()
    ]
    return {
        "now": now,
        "nights": nights,
        "edition": kept.plan.edition if kept else "",
        "first": _first(nights),
        "unsaid": Run.objects.unsaid().select_related("task", "machine"),
        "said": said.select_related("task", "machine")[:20],
        "quiet": quiet,
    }


def _first(nights: tuple[MachineNight, ...]) -> MachineRun | None:
    """The run to begin soonest: the sentence the page opens with."""
    runs = [night.runs[0] for night in nights if night.runs]
    return min(runs, key=lambda run: (run.begins_at, run.begin_by), default=None)
