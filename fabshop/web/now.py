"""What now: the line that matters most, what can be started, and what is blocked."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from fabshop import clock, words
from fabshop.actions.schedule import plan_drift
from fabshop.reckoning.arrivals import Arrival, arrivals, order_stand
from fabshop.reckoning.facts import Facts, LineFact, OrderFact, TaskFact
from fabshop.reckoning.planning.telling import by_plan, chance_words, lead
from fabshop.reckoning.readiness import (
    Startable,
    TaskReady,
    blocked_by_undelivered,
    readiness,
    start_now,
)
from fabshop.reckoning.tonight import Head, HeadLine, tonight
from fabshop.records.log import Timer
from fabshop.snapshot import accepted_plans, take
from fabshop.snapshot.kept_plan import (
    KeptPlan,
    by_plan_of,
    kept_plan,
    planned_moments,
    planned_stands,
)
from fabshop.web.gate import signed_in
from fabshop.web.overnight import machines_tonight
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
    kept = kept_plan(facts)
    minutes = _minutes(request.GET.get("minutes", ""))
    can_start = _starts(facts, minutes, request, kept)
    is_all = "all" in request.GET
    context: dict[str, Any] = {
        "now": at,
        "choices": CHOICES,
        "minutes": minutes,
        "starts": can_start if is_all else can_start[:SHOWN],
        "more": 0 if is_all else max(0, len(can_start) - SHOWN),
        "begins": _begins(facts, can_start),
    }
    if not request.htmx or request.htmx.history_restore_request:
        context |= _rest(facts, request, kept)
    return respond(request, "now/now.html", "now/_starts.html", context)


@signed_in
def blocked(request: HttpRequest) -> HttpResponse:
    at = clock.now()
    facts = take(at)
    lines, tasks = _blocked(facts)
    context = {"now": at, "lines": lines, "tasks": tasks}
    return respond(request, "now/blocked.html", "", context)


def _rest(facts: Facts, request: HttpRequest, kept: KeptPlan | None) -> dict[str, Any]:
    blocking, tasks = _blocked(facts)
    stands = readiness(facts)
    plans = accepted_plans(facts)
    planned = planned_moments(facts, kept, plans.planned)
    heads = tonight(
        facts,
        planned=planned,
        by_plan=by_plan_of(facts, kept),
        teardowns=planned_stands(facts, kept, plans.stands),
    ).heads
    told = {"is_owner": request.user.is_owner, "is_planned": kept is not None}
    lines = [(head, _page_of(head, plans.pages, **told)) for head in heads]
    first, others = lines[:1], lines[1:]
    return {
        "machines": machines_tonight(facts, kept, clock.now()),
        "plan": lead(kept.story, kept.shift) if kept else "",
        "chance": chance_words(kept.plan.sure) if kept else "",
        "drift": plan_drift(kept, facts) if kept else None,
        "is_empty": not facts.tasks and not facts.components and not facts.orders,
        "first": first,
        "pressing": [line for line in others if _stays_in_sight(line[0])],
        "later": [line for line in others if not _stays_in_sight(line[0])],
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


def _stays_in_sight(head: HeadLine) -> bool:
    """What presses, and always by when a teardown must begin and what is in hand."""
    return head.is_pressing or head.head is Head.START_BY


def _page_of(
    head: HeadLine, plans: dict[str, int], *, is_owner: bool, is_planned: bool
) -> str:
    """Where a tap on a line of the head leads."""
    if head.head in (Head.OPEN_BOX, Head.OVERDUE, Head.ARRIVING):
        return reverse("order-receive", args=[head.order])
    if head.head in (Head.SEND_TONIGHT, Head.SEND) and is_owner:
        return reverse("order-sent", args=[head.order])
    if head.order:
        return reverse("order", args=[head.order])
    if is_planned or head.build not in plans:
        return reverse("schedule")
    return reverse("plan", args=[plans[head.build]])


def _starts(
    facts: Facts, minutes: int | None, request: HttpRequest, kept: KeptPlan | None
) -> list[Start]:
    who = request.user.name if request.user.role == words.Role.HELPER else None
    can_start = start_now(facts, minutes_available=minutes, who=who)
    return [
        Start(facts.task_by_id[one.task], one)
        for one in (by_plan(can_start, kept.story) if kept else can_start)
    ]


def _begins(facts: Facts, starts: list[Start]) -> datetime | None:
    """Out of hours, when they begin: until then nothing can be started as planned."""
    begins = min((one.startable.starts_at for one in starts), default=facts.now)
    return begins if begins > facts.now else None


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
