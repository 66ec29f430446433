"""Holds and cures: what may not be closed yet, and which tasks would close it."""

from __future__ import annotations

from fabshop import words
from fabshop.reckoning.facts import Facts, TaskFact

_RELEASED = (words.HoldVerdict.SIGNED, words.HoldVerdict.WAIVED)


def binds(task: TaskFact) -> bool:
    """Whether this hold still keeps its zone open: not signed, not waived."""
    if not task.is_hold or task.hold in _RELEASED:
        return False
    return task.hold is words.HoldVerdict.FAILED or not task.is_finished


def kept_open(task: TaskFact, facts: Facts) -> tuple[str, ...]:
    """The components that may not go on before this task is done and cured.

    For a hold also all that lies directly over its zone (what it reaches or works
    on), by any route, but never the zone itself.
    """
    kept = set(task.keeps_open)
    if task.is_hold:
        zone = {*task.reach, *task.opens}
        for name in zone:
            if component := facts.component_by_id.get(name):
                kept.update(*component.routes)
        kept -= zone
    return tuple(sorted(kept))


def holds_over(facts: Facts) -> dict[str, tuple[str, ...]]:
    """For each unfinished task, the holds whose zone it would close by what it fits.

    A hold that itself waits for the task, through however many others, is none.
    """
    found: dict[str, list[str]] = {}
    for hold in facts.tasks:
        if not binds(hold):
            continue
        kept = set(kept_open(hold, facts))
        before = ancestors(hold.id, facts)
        for task in facts.tasks:
            closes = not task.is_finished and not kept.isdisjoint(task.fits)
            if closes and task.id != hold.id and task.id not in before:
                found.setdefault(task.id, []).append(hold.id)
    return {task: tuple(sorted(holds)) for task, holds in found.items()}


def curing_over(task: TaskFact, facts: Facts) -> tuple[TaskFact, ...]:
    """The finished tasks, still curing, that keep open what this task fits."""
    return tuple(
        other
        for other in facts.tasks
        if other.cured_at is not None
        and other.cured_at > facts.now
        and other.id != task.id
        and other.is_finished
        and not set(kept_open(other, facts)).isdisjoint(task.fits)
    )


def ancestors(task: str, facts: Facts) -> set[str]:
    """All the tasks that come before this one, through however many others."""
    found: set[str] = set()
    ahead = [task]
    while ahead:
        known = facts.task_by_id.get(ahead.pop())
        for name in known.after if known else ():
            if name not in found:
                found.add(name)
                ahead.append(name)
    return found
