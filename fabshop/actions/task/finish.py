"""Finishing a task: what forbids it, and what becomes true with it."""

from __future__ import annotations

from datetime import datetime, timedelta

from django.db.models import Q

from fabshop import words
from fabshop.actions.moved import Before, move
from fabshop.actions.stock.hold import release_of_task
from fabshop.actions.unaccepted import refuse_over_joints
from fabshop.errors import Clash, NotAllowed
from fabshop.records.build import Component, Cover
from fabshop.records.shop import Person
from fabshop.records.task import After, Site, Task, hold_verdict

_PASSED = (words.HoldVerdict.SIGNED, words.HoldVerdict.WAIVED)
# A hold's zone: what is tested with the machine open.
_ZONE = (words.SiteKind.OPENS, words.SiteKind.REACH)


def is_passed(task: Task) -> bool:
    """Whether a hold is signed or waived; a task that is no hold holds nothing."""
    return not task.is_hold or hold_verdict(task.signings.all()) in _PASSED


def holds_under(component: Component) -> tuple[Task, ...]:
    """The holds not passed yet that `component` may not go on before.

    What lies directly over a hold's zone would close it, and what the hold says it
    keeps open; the zone's own parts do not.
    """
    zone = Site.objects.filter(kind__in=_ZONE)
    keeps = Site.objects.filter(kind=words.SiteKind.KEEPS_OPEN, component=component)
    closes = Q(sites__in=zone.filter(component__covers__cover=component))
    holds = (
        Task.objects.unfinished()
        .filter(closes | Q(sites__in=keeps), is_hold=True)
        .exclude(sites__in=zone.filter(component=component))
        .prefetch_related("signings")
        .distinct()
    )
    return tuple(hold for hold in holds if not is_passed(hold))


def refuse_unfit(task: Task, *, by: Person, waive: str = "") -> None:
    """Refuse to finish what would bury an open hold or close off work still to do.

    `waive` is the owner's reason for bonding over what other tasks still need.
    """
    if not is_passed(task):
        raise Clash(
            f"{task.code} is a hold: sign it or waive it with a reason.",
            code="hold-unsigned",
        )
    fitted = fitted_by(task)
    refuse_over_joints(task=task, components=fitted)
    for component in fitted:
        # A hold that waits for this very task cannot be signed before it.
        holds = [
            hold
            for hold in holds_under(component)
            if hold.pk != task.pk and not _comes_after(hold, task)
        ]
        if holds:
            names = " and ".join(hold.code for hold in holds)
            raise Clash(
                f"Not yet: {component} would lie over {names}, not signed. "
                "Sign it or waive it with a reason.",
                code="hold-unsigned",
            )
    if not task.is_for_good or not fitted:
        return
    losers = _tasks_closed_off(task, fitted)
    if waive and not by.is_owner:
        raise NotAllowed("Only the owner waives what is closed off for good.")
    if losers and not waive.strip():
        raise Clash(
            f"{task.code} closes off for good what is still needed by "
            f"{', '.join(losers)}. Do those first, or waive with a reason.",
            field="waive",
            code="closes-off",
        )


def mark_done(task: Task, *, at: datetime, before: Before) -> None:
    """Set the task done, its cure running, and what it fits final and on.

    What it still holds of the rack is free again.
    """
    move(
        task,
        before,
        state=words.TaskState.DONE,
        done_at=at,
        cured_at=cured_at(task, at),
    )
    for component in fitted_by(task):
        if component.state != words.ComponentState.FINAL or not component.is_on:
            move(component, before, state=words.ComponentState.FINAL, is_on=True)
    if let_go := release_of_task(task, at):
        before["let_go"] = let_go


def cured_at(task: Task, at: datetime) -> datetime | None:
    """When the runs and cures after the last hands-on stage are over, if any are."""
    minutes = 0
    for stage in reversed(task.stages.all()):
        if stage.kind == words.StageKind.HANDS_ON:
            break
        minutes += stage.minutes
    return at + timedelta(minutes=minutes) if minutes else None


def fitted_by(task: Task) -> list[Component]:
    return list(
        Component.objects.present()
        .select_for_update(no_key=True)
        .filter(
            pk__in=task.sites.filter(kind=words.SiteKind.FITS).values("component_id")
        )
    )


def _comes_after(task: Task, other: Task) -> bool:
    """Whether `task` waits for `other`, through however many in between."""
    seen: set[int] = set()
    ahead = {task.pk}
    while ahead:
        befores = After.objects.filter(task__in=ahead).values_list("before", flat=True)
        ahead = set(befores) - seen
        if other.pk in ahead:
            return True
        seen |= ahead
    return False


def _tasks_closed_off(task: Task, fitted: list[Component]) -> list[str]:
    """The unfinished tasks that still need what nobody will reach any more."""
    fixed = {component.pk for component in fitted}
    builds = {component.build_id for component in fitted}
    parts = {part.pk: part for part in Component.objects.filter(build__in=builds)}
    routes: dict[int, dict[int, set[int]]] = {}
    for cover in Cover.objects.filter(under__build__in=builds):
        way = routes.setdefault(cover.under_id, {}).setdefault(cover.route, set())
        way.add(cover.cover_id)

    shut: set[int] = set()
    # Covers have no loops, so this settles: what lies under what is shut, is shut.
    while True:
        new = {
            pk
            for pk, ways in routes.items()
            if pk not in shut
            and all(
                any(
                    over in fixed or (over in shut and parts[over].is_on)
                    for over in way
                )
                for way in ways.values()
            )
        }
        if not new:
            break
        shut |= new
    sites = Site.objects.filter(task__in=Task.objects.unfinished()).exclude(task=task)
    needs_reach = sites.filter(component__in=shut).exclude(
        kind=words.SiteKind.KEEPS_OPEN
    )
    takes_off = sites.filter(
        component__in=fixed, kind__in=[words.SiteKind.REMOVE, words.SiteKind.FITS]
    )
    found = needs_reach | takes_off
    return sorted({site.task.code for site in found.select_related("task")})
