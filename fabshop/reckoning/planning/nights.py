"""Machine runs as the kept plan puts them: in its order, at its hours."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise

from fabshop.reckoning.facts import Facts, Span, TaskFact
from fabshop.reckoning.hours import Factor, factors_of
from fabshop.reckoning.overnight import MachineNight, MachineRun, begin_by
from fabshop.reckoning.planning.calendar import merged, nothing_running
from fabshop.reckoning.planning.story import Row, Story
from fabshop.reckoning.planning.way import stretches


def planned_nights(
    story: Story,
    shift: timedelta,
    facts: Facts,
    attended: tuple[Span, ...],
    own: Sequence[MachineNight],
) -> tuple[MachineNight, ...]:
    """For each machine what the plan still has it do, the next one first.

    `own` is how the ready runs would stand without a plan: from it come what a machine
    is on, which runs are ready, and, for one that was to begin before now, when it
    can. What is ready and not in the plan is named by `unplanned`.
    """
    by_machine = {night.machine: night for night in own}
    ready = {run.task: run for night in own for run in night.runs}
    rows: dict[str, list[Row]] = {}
    for row in _left(story, facts):
        rows.setdefault(row.machine, []).append(row)
    spans = merged((*facts.windows, *attended), facts.now, _horizon(facts, attended))
    nothing = nothing_running(facts, spans, _horizon(facts, attended))
    found = []
    for machine in sorted({*by_machine, *rows}):
        night = by_machine.get(machine)
        runs = [
            _run(row, shift, facts.now, spans, nothing, ready.get(row.task))
            for row in rows.get(machine, ())
        ]
        runs = [
            replace(run, then=after.task) if run.ends_at == after.begins_at else run
            for run, after in pairwise(runs)
        ] + runs[-1:]
        planned = {run.task for run in runs}
        found.append(
            MachineNight(
                machine=machine,
                busy_until=night.busy_until if night else None,
                is_overdue=bool(night and night.is_overdue),
                runs=tuple(runs),
                finish=max((run.ends_at for run in runs), default=None),
                is_planned=True,
                unplanned=tuple(
                    run.task
                    for run in (night.runs if night else ())
                    if run.task not in planned
                ),
            )
        )
    return tuple(found)


def _left(story: Story, facts: Facts) -> list[Row]:
    """The plan's runs that are still to be begun: the last ones of each task."""
    factors = factors_of(facts)
    rows = [row for row in story.rows if row.run_ends and row.machine]
    found = []
    for place, row in enumerate(rows):
        task = facts.task_by_id.get(row.task)
        if task is None or task.is_finished:
            continue
        behind = sum(other.task == row.task for other in rows[place:])
        if behind <= _runs_left(task, factors):
            found.append(row)
    return sorted(found, key=lambda row: (row.finish, row.task))


def _runs_left(task: TaskFact, factors: dict[str, Factor]) -> int:
    left = sum(bool(one.machine) for one in stretches(task, factors))
    return left - (task.run is not None)


def _run(
    row: Row,
    shift: timedelta,
    now: datetime,
    spans: tuple[Span, ...],
    nothing: tuple[Span, ...],
    ready: MachineRun | None,
) -> MachineRun:
    assert row.run_ends is not None
    length = row.run_ends - row.finish
    begins = row.finish + shift
    if begins < now and ready is not None:
        # The plan's moment has gone by: begun as soon as it can be.
        begins = ready.begins_at
    latest = begin_by(begins, length, spans, nothing)
    ends = begins + length
    return MachineRun(
        task=row.task,
        title=row.title,
        machine=row.machine,
        minutes=int(length.total_seconds() // 60),
        begins_at=begins,
        begin_by=max(begins, min(latest, row.latest_finish + shift)),
        ends_at=ends,
        someone_in=any(span.start <= ends < span.end for span in spans),
        next_in=min((s.start for s in spans if s.start >= ends), default=None),
        is_ready=ready is not None,
    )


def _horizon(facts: Facts, attended: tuple[Span, ...]) -> datetime:
    ends = [span.end for span in (*facts.windows, *attended)]
    return max(ends, default=facts.now) + timedelta(days=7)
