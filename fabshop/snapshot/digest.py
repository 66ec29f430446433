"""A fingerprint of what a plan stands on, to tell that the shop has changed."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime, timedelta

from fabshop import words
from fabshop.reckoning.facts import BuildFact, Facts, OrderFact, TaskFact
from fabshop.reckoning.firm import firm_record
from fabshop.reckoning.readiness.hold import ancestors, kept_open
from fabshop.snapshot.fingerprint import fingerprint
from fabshop.snapshot.hours import DAYS_BEFORE_PACK_OUT


def digest(
    facts: Facts, build: str | None = None, tasks: Iterable[str] | None = None
) -> str:
    """A hex fingerprint of the facts that a teardown of `build` (or any) stands on.

    In it: places, what lies under what, handling minutes; the tasks of the build and
    the shared ones, their guesses and what a person said is left; the order lines
    that these need, with what was promised, came and was settled; hours and days up
    to pack-out, back to 90 days before it. Not in it, so that neither time nor the
    plan's own progress changes it: `now` and the clock, which parts are off or
    fitted at the moment, tasks that are begun, done, signed or cured, minutes
    booked, and the factors that these minutes make. A task given up, or a hold that
    failed, is a change.

    With `tasks`, those of a plan: of the tasks only these, all that comes before
    them, and the holds (with what comes before) over what they fit; of the orders
    only what all these need. Work beside the plan is then no change of it.
    """
    builds = [one for one in facts.builds if build in (None, one.id)]
    slugs = {one.id for one in builds}
    known = [task for task in facts.tasks if task.build in slugs or not task.build]
    if tasks is not None:
        matter = _behind(tasks, facts)
        known = [task for task in facts.tasks if task.id in matter]
    told: list[object] = [
        [(one.id, _utc(facts, one.pack_out)) for one in builds],
        [
            replace(part, is_on=True, state=words.ComponentState.FINAL)
            for part in sorted(facts.components, key=lambda part: part.id)
            if part.build in slugs
        ],
        [_planned(task) for task in sorted(known, key=lambda task: task.id)],
        _orders(facts, known),
        [_hours(facts, one) for one in builds],
        (facts.delivery_minute, facts.setup_minutes, facts.factor_bites_after),
    ]
    if records := _firm_records(facts, known):
        told.append(records)
    return fingerprint(told)


def _behind(tasks: Iterable[str], facts: Facts) -> set[str]:
    """The tasks and all that they wait for, whether or not it is done by now."""
    chosen = set(tasks)
    fitted = {
        part
        for name in chosen
        if name in facts.task_by_id
        for part in facts.task_by_id[name].fits
    }
    holds = {
        task.id
        for task in facts.tasks
        if task.is_hold and fitted.intersection(kept_open(task, facts))
    }
    matter = chosen | holds
    return matter.union(*(ancestors(name, facts) for name in matter))


def _utc(facts: Facts, moment: datetime | None) -> datetime | None:
    return moment and moment - timedelta(minutes=facts.utc_offset_minutes)


def _planned(task: TaskFact) -> TaskFact:
    given_up = task.state is words.TaskState.GIVEN_UP
    failed = task.hold is words.HoldVerdict.FAILED
    return replace(
        task,
        state=words.TaskState.GIVEN_UP if given_up else words.TaskState.OPEN,
        hold=task.hold if failed else None,
        logged=0,
        cured_at=None,
        run=None,
        under_way_by=(),
        may_help=False,
        wished=False,
        fallbacks=tuple(replace(way, pk=0) for way in task.fallbacks),
    )


def _orders(facts: Facts, tasks: list[TaskFact]) -> list[OrderFact]:
    lines = {need.name for task in tasks for need in task.needs}
    for name in list(lines):
        if line := facts.line_by_id.get(name):
            lines.update(other for other, _ in line.reordered)
    kept = []
    for order in sorted(facts.orders, key=lambda order: order.id):
        needed = [line for line in order.lines if line.id in lines]
        if needed:
            kept.append(
                replace(
                    order,
                    promises=tuple(
                        replace(promise, at=datetime.min) for promise in order.promises
                    ),
                    lines=tuple(replace(line, taken_milli=0) for line in needed),
                )
            )
    return kept


def _firm_records(facts: Facts, tasks: list[TaskFact]) -> list[object]:
    """The records by which the firms of these orders are taken, where they have one."""
    firms = sorted({order.supplier for order in _orders(facts, tasks)})
    return [known for firm in firms if (known := firm_record(facts, firm))]


def _hours(facts: Facts, build: BuildFact) -> list[object]:
    if build.pack_out is None:
        return []
    first = build.pack_out - timedelta(days=DAYS_BEFORE_PACK_OUT)
    spans = sorted(
        (_utc(facts, span.start), _utc(facts, span.end))
        for span in (*facts.past_windows, *facts.windows)
        if first <= span.start < build.pack_out
    )
    days = [
        replace(day, quiet_until=_utc(facts, day.quiet_until))
        for day in sorted(facts.days, key=lambda day: day.on)
        if first.date() <= day.on <= build.pack_out.date()
    ]
    return [*spans, *days]
