"""Machines tonight: which run to begin before leaving, and who is in when it ends."""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from itertools import pairwise, permutations

from fabshop import words
from fabshop.reckoning.facts import Facts, Span, TaskFact
from fabshop.reckoning.hours import Factor, factors_of
from fabshop.reckoning.planning.calendar import merged, nothing_running
from fabshop.reckoning.planning.way import stretches
from fabshop.reckoning.readiness.reasons import Outlook
from fabshop.reckoning.window import Bench
from fabshop.units import show_minutes, show_moment

MOST_TRIED = 6
"""Runs of one machine whose every order is tried; behind them, in order of code."""


@dataclass(frozen=True)
class MachineRun:
    """One run in its place on its machine: begun from, begun by, and when it ends.

    `begin_by` is the last moment before everybody leaves; `someone_in` whether there is
    somebody there when it ends, `next_in` when the next comes in where not.
    """

    task: str
    title: str
    machine: str
    minutes: int
    begins_at: datetime
    begin_by: datetime
    ends_at: datetime
    someone_in: bool
    next_in: datetime | None
    then: str = ""
    is_ready: bool = True

    @property
    def sentence(self) -> str:
        return f"{self.task} {self.title}, {self.when}"

    @property
    def when(self) -> str:
        """How long, by when to begin it, and who is in at its end."""
        ends = show_moment(self.ends_at)
        if not self.someone_in and self.next_in:
            who = f"; nobody in before {show_moment(self.next_in)}"
        elif not self.someone_in:
            who = "; nobody in after that"
        elif self.then:
            who = f", in time to start {self.then}"
        else:
            who = ", somebody is in"
        length, by = show_minutes(self.minutes), show_moment(self.begin_by)
        if self.begins_at == self.begin_by:
            return f"{length}: begun by {by} it ends {ends}{who}."
        begun = show_moment(self.begins_at)
        return f"{length}: begun {begun} it ends {ends}{who}; begun by {by} at latest."


@dataclass(frozen=True)
class MachineNight:
    """A machine: what it is on, what it should do next, and until when all is done."""

    machine: str
    busy_until: datetime | None
    is_overdue: bool
    runs: tuple[MachineRun, ...]
    finish: datetime | None
    is_planned: bool = False
    unplanned: tuple[str, ...] = ()

    @property
    def startable(self) -> str:
        """The task that the machine could be set going with now; "" for none."""
        ready = (run.task for run in self.runs if run.is_ready)
        return "" if self.busy_until else next(ready, "")


def begun_today(
    nights: tuple[MachineNight, ...], today: date
) -> tuple[MachineRun, ...]:
    """The next run of each machine that is free, where it is to be begun today."""
    first = [night.runs[0] for night in nights if night.runs and not night.busy_until]
    return tuple(run for run in first if run.begins_at.date() == today)


def machine_nights(
    facts: Facts, attended: tuple[Span, ...]
) -> tuple[MachineNight, ...]:
    """For each machine the order of its ready runs that is over the soonest.

    A run is begun while somebody is in (`attended`, bench hours with them), after the
    hands-on minutes before it, which one pair of hands does for one run after the
    other. It goes on at any hour, and none is left running while nothing may run. All
    orders of up to six runs are tried: the earliest end wins, then the earliest end
    of each run before, then the order of codes.
    """
    end = _horizon(facts, attended)
    spans = merged((*facts.windows, *attended), facts.now, end)
    nothing = nothing_running(facts, spans, end)
    outlook = Outlook(facts)
    factors = factors_of(facts)
    queues: dict[str, list[tuple[TaskFact, int, int]]] = {}
    for task in outlook.tasks:
        machine, minutes, hands = _run_of(task, factors)
        can_run = not any(
            reason.why is not words.Why.OUT_OF_HOURS for reason in outlook.reasons(task)
        )
        if machine and can_run and task.run is None:
            queues.setdefault(machine, []).append((task, hands, minutes))
    unsaid = [task.run for task in facts.tasks if task.run is not None]
    on = {run.machine: run for run in sorted(unsaid, key=lambda run: run.due_at)}
    bench = Bench(spans, facts.now)
    nights = []
    for machine in sorted({*queues, *on}):
        run = on.get(machine)
        free = max(facts.now, run.due_at) if run else facts.now
        queue = queues.get(machine, [])
        runs = _best(queue, machine, free, bench, nothing)
        nights.append(
            MachineNight(
                machine=machine,
                busy_until=run.due_at if run else None,
                is_overdue=bool(run and run.due_at <= facts.now),
                runs=runs,
                finish=runs[-1].ends_at if runs else None,
            )
        )
    return tuple(nights)


def _run_of(task: TaskFact, factors: dict[str, Factor]) -> tuple[str, int, int]:
    """The machine of its next run, the run's minutes, and the hands-on ones before."""
    hands = 0
    for stretch in stretches(task, factors):
        hands += stretch.minutes
        if stretch.machine:
            return stretch.machine, stretch.run, hands
    return "", 0, 0


def _horizon(facts: Facts, attended: tuple[Span, ...]) -> datetime:
    ends = [span.end for span in (*facts.windows, *attended)]
    return max(ends, default=facts.now) + timedelta(days=7)


def _best(
    queue: list[tuple[TaskFact, int, int]],
    machine: str,
    free: datetime,
    bench: Bench,
    nothing: tuple[Span, ...],
) -> tuple[MachineRun, ...]:
    orders = [
        _in_turn((*order, *queue[MOST_TRIED:]), machine, free, bench, nothing)
        for order in permutations(queue[:MOST_TRIED])
    ]
    return min(orders, key=_worth, default=())


def _worth(runs: tuple[MachineRun, ...]) -> tuple[int, list[datetime], list[str]]:
    ends = sorted((run.ends_at for run in runs), reverse=True)
    return -len(runs), ends, [run.task for run in runs]


def _in_turn(
    order: tuple[tuple[TaskFact, int, int], ...],
    machine: str,
    free: datetime,
    bench: Bench,
    nothing: tuple[Span, ...],
) -> tuple[MachineRun, ...]:
    found: list[MachineRun] = []
    spans = bench.spans
    set_up: datetime | None = spans[0].start if spans else None
    for task, hands, minutes in order:
        length = timedelta(minutes=minutes)
        set_up = bench.end_of(set_up, hands) if set_up else None
        if set_up is None:
            break
        begins = _begin(max(free, set_up), length, spans, nothing)
        if begins is None:
            break
        ends = begins + length
        is_in = any(span.start <= ends < span.end for span in spans)
        found.append(
            MachineRun(
                task=task.id,
                title=task.title,
                machine=machine,
                minutes=minutes,
                begins_at=begins,
                begin_by=begin_by(begins, length, spans, nothing),
                ends_at=ends,
                someone_in=is_in,
                next_in=min((s.start for s in spans if s.start >= ends), default=None),
            )
        )
        free = ends
    followed = [
        replace(run, then=after.task) if run.ends_at == after.begins_at else run
        for run, after in pairwise(found)
    ]
    return (*followed, *found[-1:])


def _begin(
    free: datetime,
    length: timedelta,
    spans: tuple[Span, ...],
    nothing: tuple[Span, ...],
) -> datetime | None:
    """The first moment from `free` on, somebody in, at which it may run to its end."""
    for span in spans:
        moment = max(span.start, free)
        while moment <= span.end:
            gap = next(
                (g for g in nothing if moment < g.end and moment + length > g.start),
                None,
            )
            if gap is None:
                return moment
            moment = gap.end
    return None


def begin_by(
    begins: datetime,
    length: timedelta,
    spans: tuple[Span, ...],
    nothing: tuple[Span, ...],
) -> datetime:
    """The last moment of the same stay at which it may still be begun."""
    stays = (span.end for span in spans if span.start <= begins <= span.end)
    last = next(stays, begins)
    for gap in nothing:
        if begins + length <= gap.start < last + length:
            last = gap.start - length
    return last
