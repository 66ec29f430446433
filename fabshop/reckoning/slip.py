"""What another word on an order's day does to the tasks that wait for it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime

from fabshop.reckoning.facts import Facts, PromiseFact, TaskFact
from fabshop.reckoning.readiness import TaskReady, hangs_on, readiness
from fabshop.reckoning.readiness.due import latest_starts
from fabshop.reckoning.readiness.waits import waits_for
from fabshop.units import show_minutes, show_moment

# More tasks than this are counted, not named one by one.
_MOST_TOLD = 6


def with_promise(
    facts: Facts,
    order: str,
    *,
    eta_on: date | None,
    latest_on: date | None = None,
    said: str = "",
) -> Facts:
    """The shop as it would be if the firm had just said so."""
    word = PromiseFact("", eta_on, latest_on, said, facts.now)
    return replace(
        facts,
        orders=tuple(
            replace(one, promises=(*one.promises, word)) if one.id == order else one
            for one in facts.orders
        ),
    )


def effect_of_slip(
    facts: Facts,
    order: str,
    *,
    eta_on: date | None,
    latest_on: date | None = None,
    said: str = "",
    planned: Mapping[str, datetime] | None = None,
) -> tuple[str, ...]:
    """Sentences on what the new word moves, the weightiest first.

    `planned`: when an accepted plan begins a task. A task is impossible where it
    comes free only after the last moment at which it must begin.
    """
    then = with_promise(facts, order, eta_on=eta_on, latest_on=latest_on, said=said)
    owed = facts.order_by_id[order].lines if order in facts.order_by_id else ()
    hanging = hangs_on(facts)
    on_it = [hanging[line.id] for line in owed if line.id in hanging]
    waiting = sorted({name for one in on_it for name in one.tasks})
    following = sorted({n for one in on_it for n in one.following} - set(waiting))
    if not waiting:
        return ("No task hangs on it: nothing else moves.",)
    before, after = readiness(facts), readiness(then)
    must_begin = latest_starts(facts, waits_for(facts))

    def is_late(name: str, stand: Mapping[str, TaskReady]) -> bool:
        free, by = stand[name].free_at, must_begin.get(name)
        return by is not None and (free is None or free > by)

    moved = [n for n in waiting if before[n].free_at != after[n].free_at]
    late = [n for n in waiting if is_late(n, after)]
    late_after = [n for n in following if is_late(n, after) and not is_late(n, before)]
    return (
        _lead(moved, late, late_after, waiting),
        *(
            _told(
                facts.task_by_id[name],
                before[name].free_at,
                after[name].free_at,
                must_begin.get(name) if name in late else None,
            )
            for name in moved[:_MOST_TOLD]
        ),
        *_unplanned(planned or {}, after, moved + following),
        *_too_late_behind(late_after),
    )


def _lead(
    moved: list[str], late: list[str], late_after: list[str], waiting: list[str]
) -> str:
    if not moved:
        return f"Nothing moves: {_names(waiting)} wait for something else."
    if late:
        return f"With this part {_names(late)} can no longer be done in time."
    if late_after:
        return f"{_names(moved)} can still begin, but not all that follows in time."
    return f"{_names(moved)} can still begin in time, and all that follows."


def _told(
    task: TaskFact, was: datetime | None, now: datetime | None, by: datetime | None
) -> str:
    """When it comes free, and where that is too late by when, and the other way."""
    sentence = f"{task.id} {task.title} comes free {_at(now)}, not {_at(was)}"
    if by is None:
        return f"{sentence}."
    ways = "; ".join(
        f"{way.title} ({show_minutes(way.minutes)})" for way in task.fallbacks
    )
    plan_b = f"Plan B: {ways}." if ways else "It has no Plan B."
    return f"{sentence}; it must begin by {show_moment(by)}. {plan_b}"


def _unplanned(
    planned: Mapping[str, datetime], after: Mapping[str, TaskReady], tasks: list[str]
) -> list[str]:
    """The tasks that an accepted plan begins before they come free, the first told."""
    early = [
        name
        for name in tasks
        if name in planned
        and ((free := after[name].free_at) is None or free > planned[name])
    ]
    if not early:
        return []
    first = min(early, key=lambda name: planned[name])
    return [
        f"The accepted plan begins {first} {show_moment(planned[first])}, before that."
    ]


def _too_late_behind(late_after: list[str]) -> list[str]:
    return [f"Too late behind it: {_names(late_after)}."] if late_after else []


def _names(names: list[str]) -> str:
    told = ", ".join(names[:_MOST_TOLD])
    more = len(names) - _MOST_TOLD
    return f"{told} and {more} more" if more > 0 else told


def _at(moment: datetime | None) -> str:
    return show_moment(moment) if moment else "on a day nobody knows"
