"""Tasks of a build by how they stand and why, and the page of one task."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404

from fabshop import clock, words
from fabshop.reckoning.facts import Facts, TaskFact
from fabshop.reckoning.hours import factors_of, minutes_left
from fabshop.reckoning.readiness import Reason, TaskReady, readiness
from fabshop.reckoning.shelf import warnings_of
from fabshop.records.build import Build
from fabshop.records.log import LogEntry, Timer
from fabshop.records.shop import Person
from fabshop.records.task import Task, hold_verdict
from fabshop.snapshot import take
from fabshop.snapshot.shelf import shelf_stands
from fabshop.web.gate import signed_in
from fabshop.web.log import people_and_clock
from fabshop.web.respond import Context, respond

# What can be done first, then by what is in the way.
ORDER = (
    words.Why.UNDER_WAY,
    words.Why.READY,
    words.Why.OUT_OF_HOURS,
    words.Why.WANTS_PARTS,
    words.Why.SHUT_IN,
    words.Why.AFTER_ANOTHER,
    words.Why.CURING,
    words.Why.ON_HOLD,
)
MOST_FINISHED = 100

TASKS = Task.objects.select_related("build").prefetch_related(
    "stages__machine",
    "afters__before",
    "followers__task",
    "needs__line__order",
    "sites__component",
    "fallbacks",
    "readings",
    "signings__person",
    "estimates__person",
)

Row = tuple[TaskFact, TaskReady, int]


@signed_in
def build_tasks(request: HttpRequest, slug: str) -> HttpResponse:
    build = get_object_or_404(Build, slug=slug)
    facts = take(clock.now())
    rows = _rows(facts, slug)
    counts = {why: len([r for r in rows if r[1].why is why]) for why in ORDER}
    finished = build.tasks.exclude(state__in=["open", "under-way"])
    context = {
        "now": clock.now(),
        "build": build,
        "groups": [
            (why, [row for row in rows if row[1].why is why])
            for why in ORDER
            if counts[why]
        ],
        "ready_count": counts[words.Why.READY],
        "hours_only": counts[words.Why.OUT_OF_HOURS],
        "hours_begin": _hours_begin(rows),
        "total": len(rows),
        "wanting": len([r for r in rows if r[1].why is words.Why.WANTS_PARTS]),
        "finished": finished.order_by("-done_at", "code")[:MOST_FINISHED],
    }
    return respond(request, "task/list.html", "", context)


@signed_in
def task(request: HttpRequest, code: str) -> HttpResponse:
    return respond(request, "task/detail.html", "", task_context(code, request.user))


def task_context(code: str, person: Person) -> Context:
    """What the page of one task shows, in a fixed number of queries."""
    record = get_object_or_404(TASKS, code=code)
    facts = take(clock.now())
    fact = facts.task_by_id.get(code)
    stand = readiness(facts)
    ready = stand.get(code)
    timers = Timer.objects.filter(start__task=record).select_related("person", "start")
    entries = LogEntry.objects.filter(task=record).select_related("person")
    return {
        "now": clock.now(),
        "task": record,
        "ready": ready,
        "reasons": ready.reasons if ready else (),
        "only_hours": _only_hours(ready),
        "standing": ready.why if ready else words.TaskState(record.state),
        "minutes": minutes_left(fact, factors_of(facts)) if fact else None,
        "minutes_logged": fact.logged if fact else None,
        "elapsed": people_and_clock(LogEntry.objects.filter(task=record))[1],
        "timers": (on_it := list(timers)),
        "mine": next((t for t in on_it if t.person_id == person.pk), None),
        "sites": _sites(record),
        "rack_pieces": facts.piece_by_id,
        "verdict": hold_verdict(record.signings.all()),
        "ways": record.fallbacks.all(),
        "entries": entries[:20],
        "shares": (("1/4", "¼"), ("1/2", "½"), ("3/4", "¾")),
        "stuck_on": words.StuckOn.choices(),
        **_used_up(record, facts, stand),
    }


def _used_up(record: Task, facts: Facts, stand: dict[str, TaskReady]) -> Context:
    """What the task uses up, with its warnings; nothing where it needs none."""
    if not any(need.kind == words.NeedKind.RACK for need in record.needs.all()):
        return {}
    found = shelf_stands(facts, stand)
    return {
        "shelf_uses": [
            use for one in found for use in one.uses if use.task == record.code
        ],
        "shelf_warnings": warnings_of(found).get(record.code, ()),
    }


def _rows(facts: Facts, slug: str) -> list[Row]:
    factors = factors_of(facts)
    stand = readiness(facts)
    rows = [
        (one, stand[one.id], minutes_left(one, factors))
        for one in facts.tasks
        if one.id in stand and one.build in (slug, "")
    ]
    return sorted(rows, key=lambda row: (row[1].free_at or datetime.max, row[0].id))


def _hours_begin(rows: list[Row]) -> Reason | None:
    """The reason that all share while nobody is in; it is said once, on top."""
    return next(
        (
            reason
            for _, ready, _ in rows
            for reason in ready.reasons
            if reason.why is words.Why.OUT_OF_HOURS
        ),
        None,
    )


def _sites(record: Task) -> list[tuple[str, list[Any]]]:
    said = {
        words.SiteKind.OPENS: "Works at",
        words.SiteKind.REACH: "Must reach",
        words.SiteKind.REMOVE: "Takes off",
        words.SiteKind.FITS: "Fits",
        words.SiteKind.KEEPS_OPEN: "Keeps open",
    }
    sites = list(record.sites.all())
    return [
        (title, [site.component for site in sites if site.kind == kind])
        for kind, title in said.items()
        if any(site.kind == kind for site in sites)
    ]


def _only_hours(ready: TaskReady | None) -> bool:
    """Whether a task waits for nothing but the next hours at the bench."""
    if ready is None or len(ready.reasons) != 1:
        return False
    (reason,) = ready.reasons
    return reason.why is words.Why.OUT_OF_HOURS and reason.clears_at is not None
