"""What now: the line that matters most, what can be started, and what is blocked."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from itertools import groupby
from typing import Any

from django.db.models import Exists, OuterRef
from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from fabshop import clock, words
from fabshop.reckoning.arrivals import Arrival, arrivals, order_stand
from fabshop.reckoning.facts import Facts, LineFact, OrderFact, TaskFact
from fabshop.reckoning.readiness import (
    Startable,
    TaskReady,
    blocked_by_undelivered,
    readiness,
    start_now,
)
from fabshop.reckoning.tonight import Head, HeadLine, TeardownStand, tonight
from fabshop.reckoning.window import Bench
from fabshop.records.log import Timer
from fabshop.records.plan import PlanStep, StepTick
from fabshop.snapshot import take
from fabshop.web.gate import signed_in
from fabshop.web.respond import respond

CHOICES = (20, 40, 180)
SHOWN = 3
MOST_MINUTES = 24 * 60


@dataclass(frozen=True)
class Start:
    """A task that can be started, as its row shows it."""

    task: TaskFact
    startable: Startable


@dataclass(frozen=True)
class Blocking:
    """An order line that has not come, and the tasks that hang on it."""

    order: OrderFact
    line: LineFact
    stand: words.OrderStand
    arrival: Arrival | None
    tasks: tuple[TaskFact, ...]
    ready: tuple[TaskReady, ...]

    @property
    def since(self) -> date | None:
        return min((one.since for one in self.ready if one.since), default=None)


@signed_in
def now(request: HttpRequest) -> HttpResponse:
    at = clock.now()
    facts = take(at)
    minutes = _minutes(request.GET.get("minutes", ""))
    can_start = _starts(facts, minutes, request)
    is_all = "all" in request.GET
    context: dict[str, Any] = {
        "now": at,
        "choices": CHOICES,
        "minutes": minutes,
        "starts": can_start if is_all else can_start[:SHOWN],
        "more": 0 if is_all else max(0, len(can_start) - SHOWN),
    }
    if not request.htmx or request.htmx.history_restore_request:
        context |= _rest(facts, request)
    return respond(request, "now/now.html", "now/_starts.html", context)


@signed_in
def blocked(request: HttpRequest) -> HttpResponse:
    at = clock.now()
    facts = take(at)
    lines, tasks = _blocked(facts)
    context = {"now": at, "lines": lines, "tasks": tasks}
    return respond(request, "now/blocked.html", "", context)


def _rest(facts: Facts, request: HttpRequest) -> dict[str, Any]:
    blocking, tasks = _blocked(facts)
    stands = readiness(facts)
    steps = _accepted_steps()
    heads = tonight(
        facts, planned=_planned(steps, facts), teardowns=_teardowns(steps, facts)
    ).heads
    plans = {step.plan.build.slug: step.plan_id for step in steps}
    lines = [(head, _page_of(head, plans)) for head in heads]
    first, others = lines[:1], lines[1:]
    return {
        "first": first,
        "pressing": [line for line in others if line[0].is_pressing],
        "later": [line for line in others if not line[0].is_pressing],
        "lines": blocking[:SHOWN],
        "more_lines": max(0, len(blocking) - SHOWN),
        "blocked_tasks": tasks,
        "holds": [
            (task, stands[task.id])
            for task in facts.tasks
            if task.is_hold and task.id in stands
        ],
        "others": Timer.objects.exclude(person=request.user)
        .select_related("person", "start__task")
        .order_by("start__at"),
    }


def _accepted_steps() -> list[PlanStep]:
    """Every step of the accepted plans, in order, with whether it was ever ticked."""
    return list(
        PlanStep.objects.filter(plan__state=words.PlanState.ACCEPTED)
        .select_related("plan__build", "task")
        .annotate(was_ticked=Exists(StepTick.objects.filter(step=OuterRef("pk"))))
        .order_by("plan_id", "number")
    )


def _planned(steps: list[PlanStep], facts: Facts) -> dict[str, datetime]:
    """When an accepted plan wants each of its tasks, on the plan's clock."""
    offset = timedelta(minutes=facts.utc_offset_minutes)
    return {
        step.task.code: step.starts_at.astimezone(UTC).replace(tzinfo=None) + offset
        for step in steps
        if step.task
    }


def _teardowns(steps: list[PlanStep], facts: Facts) -> tuple[TeardownStand, ...]:
    """How each accepted teardown stands: its last start, and what is in hand."""
    stands = []
    for plan, of_plan in groupby(steps, key=lambda step: step.plan):
        sessions = plan.answer.get("sessions") or [{}]
        if "latest_start" not in sessions[0]:
            continue
        # The plan's own clock may differ from today's by a clock change.
        shift = timedelta(minutes=facts.utc_offset_minutes - plan.utc_offset_minutes)
        start_by = datetime.fromisoformat(sessions[0]["latest_start"]) + shift
        begins = datetime.fromisoformat(sessions[0]["start"]) + shift
        windows = (*facts.past_windows, *facts.windows)
        bench = Bench(windows, min(start_by, facts.now))
        in_hand = bench.minutes_until(start_by) - bench.minutes_until(
            max(begins, facts.now)
        )
        stands.append(
            TeardownStand(
                build=plan.build.slug,
                name=plan.build.name,
                start_by=start_by,
                in_hand_minutes=in_hand,
                has_begun=any(step.was_ticked for step in of_plan),
            )
        )
    return tuple(stands)


def _page_of(head: HeadLine, plans: dict[str, int]) -> str:
    """Where a tap on a line of the head leads."""
    if head.head in (Head.OPEN_BOX, Head.OVERDUE, Head.ARRIVING):
        return reverse("order-receive", args=[head.order])
    if head.order:
        return reverse("order", args=[head.order])
    return f"/plans/{plans[head.build]}/"


def _starts(facts: Facts, minutes: int | None, request: HttpRequest) -> list[Start]:
    who = request.user.name if request.user.role == words.Role.HELPER else None
    return [
        Start(facts.task_by_id[one.task], one)
        for one in start_now(facts, minutes_available=minutes, who=who)
    ]


def _blocked(facts: Facts) -> tuple[list[Blocking], tuple[TaskReady, ...]]:
    """What has not come, by line, that which most hangs on first; and its tasks."""
    tasks = blocked_by_undelivered(facts)
    wanting: dict[str, list[TaskReady]] = {}
    for ready in tasks:
        for reason in ready.reasons:
            if reason.why is words.Why.WANTS_PARTS:
                for line in reason.lines:
                    wanting.setdefault(line, []).append(ready)
    known = arrivals(facts)
    lines = [
        _blocking(facts, line, known.get(line), ready)
        for line, ready in wanting.items()
    ]
    lines.sort(key=lambda one: (-len(one.tasks), one.line.id))
    return lines, tasks


def _blocking(
    facts: Facts, line_id: str, arrival: Arrival | None, ready: list[TaskReady]
) -> Blocking:
    line = facts.line_by_id[line_id]
    order = facts.order_by_id[line.order]
    unique = {one.task: one for one in ready}
    return Blocking(
        order=order,
        line=line,
        stand=order_stand(order, facts),
        arrival=arrival,
        tasks=tuple(facts.task_by_id[name] for name in unique),
        ready=tuple(unique.values()),
    )


def _minutes(text: str) -> int | None:
    if text.isdecimal() and 0 < int(text[:6]) <= MOST_MINUTES:
        return int(text[:6])
    return None
