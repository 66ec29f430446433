"""What working on a task did to the time in hand."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from fabshop import words
from fabshop.reckoning.facts import Facts
from fabshop.reckoning.hours import factors_of, minutes_left
from fabshop.reckoning.readiness.due import latest_starts
from fabshop.reckoning.readiness.waits import waits_for
from fabshop.reckoning.tonight import TeardownStand
from fabshop.reckoning.window import Bench
from fabshop.units import show_minutes


@dataclass(frozen=True)
class PlannedWork:
    """The accepted plans, as far as time in hand hangs on them.

    By task: when its step begins, and the minutes it was planned with.
    """

    stands: Sequence[TeardownStand] = ()
    begins: Mapping[str, datetime] | None = None
    minutes: Mapping[str, int] | None = None


def in_hand_sentence(
    before: Facts,
    after: Facts,
    task: str,
    *,
    began: datetime,
    plans: PlannedWork,
) -> str:
    """What working on a task from `began` to now did to the time in hand, or "".

    For a task of an accepted teardown that is not begun it is the teardown's; for any
    other it is how long the task itself can wait, worked back from pack-out. The work
    that is left counts, so an evening that went as guessed changes nothing.
    """
    known = before.task_by_id.get(task)
    if known is None:
        return ""
    left_before = minutes_left(known, factors_of(before))
    now_known = after.task_by_id.get(task)
    is_over = now_known is None or now_known.is_finished
    left_after = 0
    if now_known is not None and not is_over:
        left_after = minutes_left(now_known, factors_of(after))
    stand = next((s for s in plans.stands if s.build == known.build), None)
    planned = (plans.minutes or {}).get(task)
    if stand is not None and planned is not None and not stand.has_begun:
        was = stand.in_hand_minutes - (left_before - planned)
        is_ = stand.in_hand_minutes - (left_after - planned)
        return f"{_moved(was, is_)} for the teardown of {stand.name}."
    waits = waits_for(before)
    if task not in waits:
        return ""
    if (was_by := _must_begin(before, task, left_before, waits, plans)) is None:
        return ""
    is_by = _must_begin(before, task, left_after, waits, plans)
    assert is_by is not None, "the pack-out is the same"
    bench = Bench((*before.past_windows, *before.windows), min(began, before.now))
    was = bench.minutes_until(was_by) - bench.minutes_until(began)
    is_ = bench.minutes_until(is_by) - bench.minutes_until(after.now)
    what = "what follows" if is_over else "it"
    return f"{_moved(was, is_)} before {what} must go on."


def _must_begin(
    facts: Facts,
    task: str,
    left: int,
    waits: Mapping[str, tuple[str, ...]],
    plans: PlannedWork,
) -> datetime | None:
    """The last moment to go on with the task, with so much of it left."""
    told = tuple(
        replace(one, left=left, state=words.TaskState.UNDER_WAY)
        if one.id == task
        else one
        for one in facts.tasks
    )
    planned = {n: at for n, at in (plans.begins or {}).items() if n != task}
    return latest_starts(replace(facts, tasks=told), waits, planned=planned).get(task)


def _moved(was: int, is_: int) -> str:
    """57 min → 41 min in hand; too late where there is nothing in hand any more."""
    if was == is_:
        return f"{_spare(is_)}, as before,"
    return f"{_spare(was, alone=False)} → {_spare(is_)}"


def _spare(minutes: int, *, alone: bool = True) -> str:
    if minutes < 0:
        return f"{show_minutes(-minutes)} too late"
    return f"{show_minutes(minutes)} in hand" if alone else show_minutes(minutes)
