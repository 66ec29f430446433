"""The last moments at which tasks can begin so that all is well by pack-out."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime, timedelta

from fabshop.reckoning.facts import Facts, TaskFact
from fabshop.reckoning.hours import factors_of, minutes_left
from fabshop.reckoning.readiness.free import clock_minutes
from fabshop.reckoning.readiness.waits import in_order
from fabshop.reckoning.window import Bench


def latest_starts(
    facts: Facts,
    waits: Mapping[str, tuple[str, ...]],
    *,
    planned: Mapping[str, datetime] | None = None,
) -> dict[str, datetime | None]:
    """For every unfinished task the last moment to begin it, worked back from the end.

    The end is the build's pack-out, for shared tasks the first of all. Each chain is
    worked back through the owner's hours, cures on the clock, as if it had the bench
    to itself; so the moments are never too early, and too late where chains want
    the same hours. Where a plan says when a task begins (`planned`), that counts.
    None: there is no pack-out. Where not enough hours are left, it is now.
    """
    bench = Bench(facts.windows, facts.now)
    factors = factors_of(facts)
    ends = {name: pack_out_of(facts.task_by_id[name], facts) for name in waits}
    starts: dict[str, datetime | None] = {}
    for name in reversed(list(in_order(waits))):
        task = facts.task_by_id[name]
        start = (planned or {}).get(name)
        end = ends[name]
        if start is None and end is not None:
            by = end - timedelta(minutes=clock_minutes(task))
            start = bench.latest_start(by, minutes_left(task, factors)) or facts.now
        starts[name] = start
        for before in waits[name]:
            ends[before] = _first(ends[before], start)
    return starts


def pack_out_of(task: TaskFact, facts: Facts) -> datetime | None:
    """When the packing of its build closes; of a shared task, the first of all."""
    build = facts.build_by_id.get(task.build)
    if build is not None:
        return build.pack_out
    return min((b.pack_out for b in facts.builds if b.pack_out), default=None)


def _first(one: datetime | None, other: datetime | None) -> datetime | None:
    return min(one, other) if one and other else one or other
