"""Looks for contradictions in the records that no single row can show."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from django.conf import settings
from django.db.models import F

from fabshop import words
from fabshop.actions.order import balance
from fabshop.actions.order.owed import line_name
from fabshop.console.audit_drawing import DRAWING_CHECKS
from fabshop.console.audit_frame import FRAME_CHECKS
from fabshop.console.audit_joint import JOINT_CHECKS
from fabshop.console.audit_overnight import OVERNIGHT_CHECKS
from fabshop.console.audit_schedule import SCHEDULE_CHECKS
from fabshop.console.audit_shelf import SHELF_CHECKS
from fabshop.console.audit_stock import RACK_CHECKS
from fabshop.reckoning.access import Cover as Over
from fabshop.reckoning.access import loops
from fabshop.records.build import Component, Cover
from fabshop.records.log import LogEntry, Photo, Timer
from fabshop.records.order import Order, OrderLine
from fabshop.records.task import After, Need, Site, Task, hold_verdict

_DONE = (words.TaskState.DONE, words.TaskState.ACCEPTED)
_ENDED = (*_DONE, words.TaskState.GIVEN_UP)
_PASSED = (words.HoldVerdict.SIGNED, words.HoldVerdict.WAIVED)


@dataclass(frozen=True)
class Contradiction:
    """Two records that cannot both be true: a name for programs, words for people."""

    name: str
    words: str

    def __str__(self) -> str:
        return f"{self.name}: {self.words}"


def contradictions() -> list[Contradiction]:
    """Every contradiction, in the order of the checks."""
    return [
        Contradiction(name, said) for name, check in CHECKS.items() for said in check()
    ]


def _cover_loops() -> Iterator[str]:
    """Covers that shut each other in for ever."""
    links = list(Cover.objects.select_related("under", "cover"))
    routes: dict[str, dict[int, list[str]]] = {}
    for link in links:
        way = routes.setdefault(link.under.code, {}).setdefault(link.route, [])
        way.append(link.cover.code)
        routes.setdefault(link.cover.code, {})
    over = {
        code: Over(code, routes=tuple(tuple(way) for way in ways.values()))
        for code, ways in routes.items()
    }
    for loop in loops(over):
        yield f"{loop}."


def _covers_across_builds() -> Iterator[str]:
    strangers = Cover.objects.exclude(under__build=F("cover__build"))
    for link in strangers.select_related("under__build", "cover__build"):
        yield (
            f"{link.under} on {link.under.build} lies under {link.cover} on "
            f"{link.cover.build}."
        )


def _twins_one_sided() -> Iterator[str]:
    for part in Component.objects.exclude(twin=None).select_related("twin"):
        twin = part.twin
        if twin is None:
            continue
        if twin.twin_id != part.pk:
            yield f"{part} has {twin} for its twin, but not the other way round."
        elif part.code > twin.code:
            # Of a pair that agrees on being one, one speaks for both.
            continue
        elif twin.build_id != part.build_id:
            yield f"{part} and its twin {twin} are on two builds."
        elif part.side and part.side == twin.side:
            side = words.Side(part.side).label
            yield f"{part} and its twin {twin} are both the {side} one."


def _task_loops() -> Iterator[str]:
    """Tasks that wait for each other."""
    befores: dict[str, set[str]] = {}
    for link in After.objects.select_related("task", "before"):
        befores.setdefault(link.task.code, set()).add(link.before.code)
        befores.setdefault(link.before.code, set())
    # What waits for nothing that is left is taken out; what stays goes in circles.
    while free := {code for code, waits in befores.items() if not waits}:
        befores = {
            code: waits - free for code, waits in befores.items() if code not in free
        }
    followed = {code for waits in befores.values() for code in waits}
    circle = sorted(followed & set(befores))
    if circle:
        yield f"{', '.join(circle)} wait for each other."


def _done_before_what_comes_first() -> Iterator[str]:
    links = After.objects.filter(task__state__in=_DONE).exclude(
        before__state__in=_ENDED
    )
    for link in links.select_related("task", "before"):
        yield f"{link.task} is done, though {link.before} comes before it and is not."


def _holds_done_unsigned() -> Iterator[str]:
    holds = Task.objects.filter(is_hold=True, state__in=_DONE)
    for hold in holds.prefetch_related("signings"):
        if hold_verdict(hold.signings.all()) not in _PASSED:
            yield f"{hold} is done, though nobody has signed or waived it."


def _fitted_but_missing() -> Iterator[str]:
    sites = Site.objects.filter(
        kind=words.SiteKind.FITS,
        task__state__in=_DONE,
        component__state=words.ComponentState.MISSING,
    )
    for site in sites.select_related("task", "component"):
        part = site.component
        yield f"{site.task} is done, though {part}, which it fits, is missing."


def _sites_across_builds() -> Iterator[str]:
    sites = Site.objects.exclude(task__build=None).exclude(
        task__build=F("component__build")
    )
    for site in sites.select_related("task__build", "component__build"):
        yield (
            f"{site.task} on {site.task.build} works on {site.component} on "
            f"{site.component.build}."
        )


def _counts_that_do_not_add_up() -> Iterator[str]:
    lines = OrderLine.objects.select_related("order").prefetch_related(
        "receipts", "settlements"
    )
    for line in lines:
        stands = balance(line)
        if stands.accepted_milli < 0 or stands.wrong_milli < 0:
            yield f"{line_name(line)}: more was taken back than ever came."
        gone = stands.accepted_milli + stands.written_off_milli
        if stands.written_off_milli and gone > stands.ordered_milli:
            yield (
                f"{line_name(line)}: more was accepted and written off than ordered."
            )


def _orders_done_but_owed() -> Iterator[str]:
    orders = Order.objects.filter(move=words.Move.DONE, given_up_at=None)
    for order in orders.prefetch_related("lines__receipts", "lines__settlements"):
        owed = [line for line in order.lines.all() if balance(line).owed_milli]
        if owed:
            yield f"{order} is done, though line {owed[0].number} of it is still owed."


def _orders_sent_on_another_day() -> Iterator[str]:
    for order in Order.objects.prefetch_related("sendings"):
        standing = [one for one in order.sendings.all() if not one.is_taken_back]
        if standing and standing[-1].sent_on != order.sent_on:
            yield (
                f"{order} is sent on {order.sent_on or 'no day'}, though its last "
                f"sending is of {standing[-1].sent_on}."
            )


def _needs_beyond_the_line() -> Iterator[str]:
    needs = Need.objects.filter(quantity_milli__gt=F("line__quantity_milli"))
    for need in needs.select_related("task", "line__order"):
        if need.line is not None:
            yield f"{need.task} needs more than is on {line_name(need.line)}."


def _timers_of_what_has_ended() -> Iterator[str]:
    for timer in Timer.objects.select_related("person", "start__task"):
        start = timer.start
        if start.kind != words.EntryKind.START or start.person_id != timer.person_id:
            yield f"The timer of {timer.person} does not run from a start of theirs."
        elif LogEntry.objects.filter(started_by=start, reversed_by=None).exists():
            yield (
                f"The timer of {timer.person} on {start.task} runs, though that "
                "start was stopped."
            )
        elif start.task is not None and start.task.state in _ENDED:
            yield f"The timer of {timer.person} runs on {start.task}, which is done."


def _starts_that_nothing_ends() -> Iterator[str]:
    stopped = LogEntry.objects.filter(started_by__isnull=False, reversed_by=None)
    starts = LogEntry.objects.filter(
        kind=words.EntryKind.START, running=None, reversed_by=None
    ).exclude(pk__in=stopped.values("started_by_id"))
    # A mark that came in late waits for its stop on somebody's phone.
    marks = LogEntry.objects.filter(before__timer="marked")
    starts = starts.exclude(pk__in=marks.values("pk"))
    for start in starts.select_related("person", "task"):
        yield (
            f"{start.person} started {start.task} on {start.at:%Y-%m-%d %H:%M} UTC; "
            "no stop ends it and no timer runs."
        )


def _tasks_under_way_by_nobody() -> Iterator[str]:
    running = Timer.objects.filter(start__task__isnull=False)
    tasks = Task.objects.filter(state=words.TaskState.UNDER_WAY)
    for task in tasks.exclude(pk__in=running.values("start__task_id")):
        yield f"{task} is under way, though nobody's timer runs on it."


def _photos_without_a_file() -> Iterator[str]:
    for photo in Photo.objects.all():
        for name in (photo.file, photo.thumb):
            if name and not (Path(settings.MEDIA_ROOT) / name).is_file():
                yield f"Photo {photo}: the file {name} is gone."


CHECKS: dict[str, Callable[[], Iterable[str]]] = {
    "cover-loop": _cover_loops,
    "cover-across-builds": _covers_across_builds,
    "twin-one-sided": _twins_one_sided,
    "task-loop": _task_loops,
    "done-too-early": _done_before_what_comes_first,
    "hold-done-unsigned": _holds_done_unsigned,
    "fitted-but-missing": _fitted_but_missing,
    "site-across-builds": _sites_across_builds,
    "counts-do-not-add-up": _counts_that_do_not_add_up,
    "order-done-but-owed": _orders_done_but_owed,
    "order-sent-another-day": _orders_sent_on_another_day,
    "need-beyond-line": _needs_beyond_the_line,
    "timer-of-what-has-ended": _timers_of_what_has_ended,
    "start-without-end": _starts_that_nothing_ends,
    "under-way-by-nobody": _tasks_under_way_by_nobody,
    "photo-without-file": _photos_without_a_file,
    **DRAWING_CHECKS,
    **RACK_CHECKS,
    **JOINT_CHECKS,
    **SHELF_CHECKS,
    **FRAME_CHECKS,
    **OVERNIGHT_CHECKS,
    **SCHEDULE_CHECKS,
}
