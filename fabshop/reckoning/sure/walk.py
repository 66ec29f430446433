"""A plan walked through many times at once: its order and ways kept, its times not."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from fabshop.reckoning.schedule.problem import CLOCK, Job, Problem, Way
from fabshop.reckoning.sure.hours import Hours, Whole

Order = tuple[tuple[int, int], ...]
"""What is done and in which way, in the order of the plan's starts."""


@dataclass
class Walked:
    """Start and finish of each activity in each run, clock minutes from the origin."""

    starts: dict[int, Whole] = field(default_factory=dict)
    finishes: dict[int, Whole] = field(default_factory=dict)


class Queue:
    """One person or machine: its jobs one after another, gaps filled where one fits."""

    def __init__(self, hours: Hours, runs: int) -> None:
        self.hours = hours
        self.starts: Whole = np.zeros((runs, 0), dtype=np.int64)
        self.ends: Whole = np.zeros((runs, 0), dtype=np.int64)

    def room_from(self, rows: Whole, earliest: Whole, minutes: Whole) -> Whole:
        """The first position from `earliest` on with so many minutes free."""
        if not self.starts.shape[1]:
            return earliest
        starts, ends = self.starts[rows], self.ends[rows]
        # Before the first, between each two, after the last.
        begins = np.maximum(ends, earliest[:, None])
        fits = begins[:, :-1] + minutes[:, None] <= starts[:, 1:]
        first = earliest + minutes <= starts[:, 0]
        fits = np.concatenate([first[:, None], fits, np.ones_like(first)[:, None]], 1)
        gap = fits.argmax(axis=1)
        after = begins[np.arange(len(rows)), np.maximum(gap - 1, 0)]
        found: Whole = np.where(gap == 0, earliest, after)
        return found

    def clear_from(self, rows: Whole, start: Whole, end: Whole) -> Whole:
        """Where the last of what lies between ends; -1 where nothing does.

        No later start before that can do: it would only end later still.
        """
        if not self.starts.shape[1]:
            return np.full(len(rows), -1)
        starts, ends = self.starts[rows], self.ends[rows]
        overlaps = (starts < end[:, None]) & (ends > start[:, None])
        found: Whole = np.where(overlaps, ends, -1).max(axis=1)
        return found

    def take(self, start: Whole, end: Whole) -> None:
        """Jobs of one machine never overlap, so starts and ends sort alike."""
        self.starts = np.sort(np.concatenate([self.starts, start[:, None]], axis=1))
        self.ends = np.sort(np.concatenate([self.ends, end[:, None]], axis=1))


class Pool:
    """Several alike: who is free takes the next job; gaps are not gone back to."""

    def __init__(self, capacity: int, runs: int) -> None:
        self.free: Whole = np.zeros((runs, capacity), dtype=np.int64)

    def free_from(self, units: int) -> Whole:
        """The clock when so many are free together."""
        found: Whole = self.free[:, units - 1]
        return found

    def take(self, units: int, start: Whole, finish: Whole) -> None:
        """Those that have been free for the shortest time."""
        ready = (self.free <= start[:, None]).sum(axis=1)
        columns = np.arange(self.free.shape[1])[None, :]
        taken = (columns < ready[:, None]) & (columns >= ready[:, None] - units)
        self.free = np.sort(np.where(taken, finish[:, None], self.free))


class Walk:
    """The shop while all runs are walked through side by side."""

    def __init__(self, problem: Problem, order: Order, runs: int) -> None:
        self.problem, self.order, self.runs = problem, order, runs
        self.hours = [Hours(windows) for windows in problem.windows]
        self.queues: dict[int, Queue] = {}
        self.pools: dict[int, Pool] = {}
        for resource in sorted(self._short()):
            if problem.capacities[resource] == 1:
                axis = problem.resource_axes[resource]
                self.queues[resource] = Queue(self.hours[axis], runs)
            else:
                self.pools[resource] = Pool(problem.capacities[resource], runs)

    def _short(self) -> set[int]:
        """The resources that cannot serve everybody at once."""
        wanted: dict[int, int] = {}
        for i, n in self.order:
            for resource, units in self.problem.jobs[i].ways[n].uses:
                wanted[resource] = wanted.get(resource, 0) + units
        return {r for r, n in wanted.items() if n > self.problem.capacities[r]}

    def through(
        self, minutes: Mapping[int, Whole], ready: Mapping[int, Whole]
    ) -> Walked:
        """All of it, with these minutes of work and these days of arrival."""
        walked = Walked()
        for i, n in self.order:
            job = self.problem.jobs[i]
            way = job.ways[n]
            earliest = np.full(self.runs, job.ready, dtype=np.int64)
            if i in ready:
                earliest = np.maximum(earliest, ready[i])
            for before, lag in way.after:
                if before in walked.finishes:
                    earliest = np.maximum(earliest, walked.finishes[before] + lag)
            for resource, units in way.uses:
                if resource in self.pools:
                    free = self.pools[resource].free_from(units)
                    earliest = np.maximum(earliest, free)
            start, finish = self._placed(job, way, earliest, minutes[i])
            self._taken(way, start, finish)
            walked.starts[i], walked.finishes[i] = start, finish
        return walked

    def _placed(
        self, job: Job, way: Way, earliest: Whole, minutes: Whole
    ) -> tuple[Whole, Whole]:
        queues = [self.queues[r] for r, _ in way.uses if r in self.queues]
        start, finish = earliest.copy(), earliest.copy()
        rows: Whole = np.arange(self.runs)
        while len(rows):
            for queue in queues:
                position = queue.hours.position_from(start[rows])
                room = queue.room_from(rows, position, minutes[rows])
                moved = queue.hours.start_clock(room)
                start[rows] = np.maximum(start[rows], moved)
            start[rows], finish[rows] = self._span(job, way, start[rows], minutes[rows])
            if not queues or (not job.unbroken and self._rests_alike(way)):
                break
            later = np.full(len(rows), -1, dtype=np.int64)
            for queue in queues:
                low = queue.hours.position_from(start[rows])
                high = queue.hours.position_from(finish[rows])
                clear = queue.clear_from(rows, low, high)
                clock = queue.hours.start_clock(np.maximum(clear, 0))
                later = np.maximum(later, np.where(clear < 0, -1, clock))
            rows, later = rows[later >= 0], later[later >= 0]
            start[rows] = later
        return start, finish

    def _rests_alike(self, way: Way) -> bool:
        """Whether it rests just when its one resource does: a gap found is enough."""
        if len(way.uses) > 1:
            return False
        return way.axis == self.problem.resource_axes[way.uses[0][0]]

    def _span(
        self, job: Job, way: Way, earliest: Whole, minutes: Whole
    ) -> tuple[Whole, Whole]:
        if way.axis == CLOCK:
            return earliest, earliest + minutes
        hours = self.hours[way.axis]
        position = hours.position_from(earliest)
        if job.unbroken:
            position = hours.in_one_window(position, minutes)
        return hours.start_clock(position), hours.end_clock(position + minutes)

    def _taken(self, way: Way, start: Whole, finish: Whole) -> None:
        for resource, units in way.uses:
            if resource in self.queues:
                hours = self.queues[resource].hours
                low, high = hours.position_from(start), hours.position_from(finish)
                self.queues[resource].take(low, high)
            elif resource in self.pools:
                self.pools[resource].take(units, start, finish)
