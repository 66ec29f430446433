"""What another word on an order's day does to the tasks that wait for it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime

from fabshop.reckoning.facts import Facts, PromiseFact, TaskFact
from fabshop.reckoning.readiness import hangs_on, readiness
from fabshop.reckoning.readiness.due import latest_starts
from fabshop.reckoning.readiness.waits import waits_for
from fabshop.units import show_minutes, show_moment

# More tasks than this are counted, not told one by one.
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
    tasks = sorted({name for one in on_it for name in (*one.tasks, *one.following)})
    if not tasks:
        return ("No task hangs on it: nothing else moves.",)
    before, after = readiness(facts), readiness(then)
    must_begin = latest_starts(facts, waits_for(facts))
    moved, lost, unplanned = [], [], []
    for name in tasks:
        was, now = before[name].free_at, after[name].free_at
        if was == now:
            continue
        moved.append(f"{name} comes free {_at(now)}, not {_at(was)}.")
        by = must_begin.get(name)
        if by and (now is None or now > by):
            lost.append(
                _lost(facts.task_by_id[name], by, was_lost=bool(was and was > by))
            )
        start = (planned or {}).get(name)
        if start and (now is None or now > start):
            unplanned.append(
                f"The plan begins {name} {show_moment(start)}, before that."
            )
    return (
        _lead(moved, lost, tasks),
        *lost[:_MOST_TOLD],
        *unplanned[:_MOST_TOLD],
        *moved[:_MOST_TOLD],
        *_rest(moved),
    )


def _lead(moved: list[str], lost: list[str], tasks: list[str]) -> str:
    if not moved:
        return (
            f"Nothing moves: {', '.join(tasks[:_MOST_TOLD])} wait for something else."
        )
    if lost:
        return f"With this part it can no longer all be done: {len(lost)} too late."
    return (
        f"{len(moved)} task{'s' * (len(moved) > 1)} come{'s' * (len(moved) == 1)} "
        "free on another day; each can still begin in time."
    )


def _lost(task: TaskFact, by: datetime, *, was_lost: bool) -> str:
    ways = "; ".join(
        f"{way.title} ({show_minutes(way.minutes)})" for way in task.fallbacks
    )
    return (
        f"{task.id} {task.title} must begin by {show_moment(by)}"
        f"{', which was too late before as well' if was_lost else ''}. "
        + (f"Plan B: {ways}." if ways else "It has no Plan B.")
    )


def _rest(moved: list[str]) -> tuple[str, ...]:
    more = len(moved) - _MOST_TOLD
    return (f"{more} more come free on another day.",) if more > 0 else ()


def _at(moment: datetime | None) -> str:
    return show_moment(moment) if moment else "on a day nobody knows"
