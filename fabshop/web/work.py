"""The taps of the bench: start, stop, done, part-done, stuck."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.utils.html import format_html
from django.utils.http import url_has_allowed_host_and_scheme
from django.views.decorators.http import require_POST

from fabshop import clock, words
from fabshop.actions.expired import gone_off_for, shop_day
from fabshop.actions.log import (
    finish_work,
    part_done,
    start_work,
    stick,
    stop_work,
)
from fabshop.errors import BadInput, Clash
from fabshop.reckoning.facts import Facts
from fabshop.reckoning.in_hand import PlannedWork, in_hand_sentence
from fabshop.reckoning.readiness import start_now
from fabshop.reckoning.readiness.hold import holds_over
from fabshop.records.log import LogEntry, Timer
from fabshop.records.task import Task
from fabshop.snapshot import accepted_plans, plan_clock, take
from fabshop.snapshot.kept_plan import kept_plan, planned_stands
from fabshop.units import show_minutes
from fabshop.web.gate import for_writers
from fabshop.web.respond import refused
from fabshop.web.tap import answered, tap
from fabshop.web.typed import Typed

SHARES = {"1/4": Fraction(1, 4), "1/2": Fraction(1, 2), "3/4": Fraction(3, 4)}


@require_POST
@for_writers
def task_start(request: HttpRequest, code: str) -> HttpResponse:
    task = _task(code)
    try:
        start_work(
            task=task,
            join=bool(request.POST.get("join")),
            switch=bool(request.POST.get("switch")),
            **answered(request),
            **tap(request),
        )
    except Clash as error:
        if error.code != "gone-off":
            raise
        return _gone_off(request, error, task)
    return _back(request)


@require_POST
@for_writers
def task_stop(request: HttpRequest, code: str) -> HttpResponse:
    task = _task(code)
    stand = Stand.of(request, task)
    entry = stop_work(task=task, **answered(request), **tap(request))
    return _told(request, entry, f"Stopped {task.code}.", stand)


@require_POST
@for_writers
def task_done(request: HttpRequest, code: str) -> HttpResponse:
    task = _task(code)
    stand = Stand.of(request, task)
    try:
        entry = finish_work(
            task=task,
            waive=request.POST.get("waive", ""),
            **answered(request),
            **tap(request),
        )
    except Clash as error:
        context = {"now": clock.now(), "task": task}
        if error.code == "hold-unsigned":
            context["holds"] = _holds(task, stand.facts)
            return refused(request, error, "task/held.html", "", context)
        if error.code == "gone-off":
            return _gone_off(request, error, task)
        if error.code != "closes-off":
            raise
        return refused(request, error, "task/waive.html", "", context)
    return _told(request, entry, f"{task.code} is done.", stand)


@require_POST
@for_writers
def task_part_done(request: HttpRequest, code: str) -> HttpResponse:
    task = _task(code)
    typed = Typed(request)
    left_minutes = typed.minutes("left_minutes", "Left")
    typed.refuse_if_wrong()
    stand = Stand.of(request, task)
    share = SHARES.get(request.POST.get("left_share", ""))
    if share is None and left_minutes is None:
        raise BadInput("How much is left: ¼, ½, ¾ or minutes?", field="left_minutes")
    entry = part_done(
        task=task,
        left_minutes=left_minutes,
        left_share=share,
        **answered(request),
        **tap(request),
    )
    left = show_minutes(entry.left_minutes or 0)
    return _told(request, entry, f"{task.code} is part-done, {left} left.", stand)


@require_POST
@for_writers
def task_stuck(request: HttpRequest, code: str) -> HttpResponse:
    task = _task(code)
    stand = Stand.of(request, task)
    entry = stick(
        task=task,
        on=request.POST.get("on", ""),
        text=request.POST.get("text", ""),
        **answered(request),
        **tap(request),
    )
    on = words.StuckOn(entry.stuck_on).label
    return _told(request, entry, f"{task.code} is stuck on {on}.", stand)


def _task(code: str) -> Task:
    return get_object_or_404(Task, code=code)


@dataclass(frozen=True)
class Stand:
    """How the shop stood before a tap, to say what it did to the time in hand."""

    task: Task
    facts: Facts
    began: datetime

    @classmethod
    def of(cls, request: HttpRequest, task: Task) -> Stand:
        facts = take(clock.now())
        mine = Timer.objects.filter(person=request.user, start__task=task)
        at = mine.values_list("start__at", flat=True).first()
        return cls(
            task, facts, plan_clock(clock.now()).to_plan(at) if at else facts.now
        )


def _told(
    request: HttpRequest, entry: LogEntry, sentence: str, stand: Stand
) -> HttpResponse:
    """Say what was logged, what that frees and moves, and where it can be undone."""
    stop = LogEntry.objects.filter(pk__in=entry.before.get("with", [])).first()
    minutes = entry.minutes if stop is None else stop.minutes
    booked = f" {show_minutes(minutes)} booked." if minutes is not None else ""
    facts = take(clock.now())
    plans, kept = accepted_plans(facts), kept_plan(facts)
    stands = planned_stands(facts, kept, plans.stands)
    in_hand = in_hand_sentence(
        stand.facts,
        facts,
        stand.task.code,
        began=stand.began,
        plans=PlannedWork(stands, plans.planned, plans.minutes),
    )
    messages.success(
        request,
        format_html(
            '{}{}{}{} <a href="{}">Look, or undo it</a>',
            sentence,
            _frees(stand.task, facts),
            booked,
            in_hand and f" {in_hand}",
            reverse("log-entry", args=[entry.client_id]),
        ),
    )
    return _back(request)


def _back(request: HttpRequest) -> HttpResponse:
    then = request.POST.get("then", "")
    is_ours = url_has_allowed_host_and_scheme(then, allowed_hosts=None)
    return redirect(then if then and is_ours else "now")


def _frees(task: Task, facts: Facts) -> str:
    """What can be started now only because `task` is done."""
    done = facts.task_by_id.get(task.code)
    if done is not None and not done.is_finished:
        return ""
    free = [
        one.task
        for one in start_now(facts)
        if task.code in facts.task_by_id[one.task].after
    ]
    return f" Free now: {', '.join(free)}." if free else ""


def _gone_off(request: HttpRequest, error: Clash, task: Task) -> HttpResponse:
    """What has gone off, each with the owner's way to let it through."""
    today = shop_day(clock.now())
    context = {
        "now": clock.now(),
        "task": task,
        "things": gone_off_for(task, today),
    }
    return refused(request, error, "shelf/held.html", "", context)


def _holds(task: Task, facts: Facts) -> list[str]:
    """The holds that keep it from being done: itself, or those it would close over."""
    if task.is_hold:
        return [task.code]
    return list(holds_over(facts).get(task.code, ()))
