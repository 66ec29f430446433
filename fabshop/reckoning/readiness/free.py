"""The earliest moments at which tasks can begin and be done, chain by chain."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta

from fabshop import words
from fabshop.reckoning.facts import Facts, TaskFact
from fabshop.reckoning.hours import factors_of, minutes_left
from fabshop.reckoning.readiness.hold import curing_over
from fabshop.reckoning.readiness.rack import lacking_pieces
from fabshop.reckoning.readiness.shut import Shut
from fabshop.reckoning.readiness.waits import in_order
from fabshop.reckoning.readiness.wants import Want
from fabshop.reckoning.window import Bench


@dataclass(frozen=True)
class Moments:
    """When tasks come free, and when they would be done and cured; None is unknown."""

    free_at: dict[str, datetime | None]
    done_at: dict[str, datetime | None]


def clock_minutes(task: TaskFact) -> int:
    """Minutes of runs and cures, on the clock, before the task counts as done."""
    return sum(
        stage.minutes
        for stage in task.stages
        if stage.kind is not words.StageKind.HANDS_ON
    )


def moments(
    facts: Facts,
    waits: Mapping[str, tuple[str, ...]],
    wanted: Mapping[str, tuple[Want, ...]],
    shut: Mapping[str, Shut],
    *,
    late: bool,
) -> Moments:
    """For every unfinished task the first moment at which it can be free, and done.

    Each chain is reckoned as if the bench did nothing else: a task begins as soon
    as its parts are here (likely or late) and what it waits for is done and cured;
    its removals and its hands-on minutes run through the owner's hours, its runs
    and cures follow on the clock. So these are never too late, and too early where
    chains want the same hours. Unknown where a part's day is unknown, where hours
    run out, or where a hold has failed.
    """
    bench = Bench(facts.windows, facts.now)
    factors = factors_of(facts)
    # Nobody knows when a piece that is too short will be long enough.
    lacking = lacking_pieces(facts)
    free: dict[str, datetime | None] = {}
    done: dict[str, datetime | None] = {}
    for name in in_order(waits):
        task = facts.task_by_id[name]
        parts = [_comes(want, late=late) for want in wanted.get(name, ())]
        parts += [None for _ in lacking.get(name, ())]
        before = [_released(facts, other, done) for other in waits[name]]
        free[name] = _latest(facts, [*parts, *before, *_cures(task, facts)])
        start = free[name]
        if task.state is words.TaskState.UNDER_WAY:
            start = facts.now
        if start is None or shut[name].minutes is None:
            done[name] = None
            continue
        work = minutes_left(task, factors) + (shut[name].minutes or 0)
        end = bench.end_of(start, work)
        done[name] = end and end + timedelta(minutes=clock_minutes(task))
    return Moments(free, done)


def _comes(want: Want, *, late: bool) -> datetime | None:
    if want.arrival is None:
        return None
    return want.arrival.late_at if late else want.arrival.likely_at


def _released(
    facts: Facts, name: str, done: Mapping[str, datetime | None]
) -> datetime | None:
    if facts.task_by_id[name].hold is words.HoldVerdict.FAILED:
        return None
    return done.get(name)


def _cures(task: TaskFact, facts: Facts) -> list[datetime | None]:
    before = [facts.task_by_id[name] for name in task.after if name in facts.task_by_id]
    cures: list[datetime | None] = []
    for other in (task, *before, *curing_over(task, facts)):
        if other.run is not None and other.run.due_at <= facts.now:
            # Overdue, and nobody has looked: it may have failed.
            cures.append(None)
        elif other.run is not None and not other.is_finished:
            cures.append(other.run.due_at)
        elif other.cured_at is not None and other.is_finished:
            cures.append(other.cured_at)
    return cures


def _latest(facts: Facts, moments: list[datetime | None]) -> datetime | None:
    known = [facts.now]
    for moment in moments:
        if moment is None:
            return None
        known.append(moment)
    return max(known)
