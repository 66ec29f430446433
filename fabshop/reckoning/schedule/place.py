"""Work placed one after another, each as early as it can be: a plan's times."""

from __future__ import annotations

import heapq
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from fabshop.reckoning.schedule.problem import CLOCK, Job, Problem, Way

Choice = tuple[int, int]
"""An activity and its way, by index."""


@dataclass(frozen=True)
class Placed:
    """When an activity is done, and in which way; clock minutes from the origin."""

    way: int
    start: int
    finish: int


Plan = dict[int, Placed]
"""What is done, by activity, in the order in which it was placed."""


class Held:
    """How much of one resource is taken, over the minutes in which it is there."""

    def __init__(self, capacity: int) -> None:
        self.capacity = capacity
        self._from = [0]
        self._taken = [0]

    def room_from(self, position: int, minutes: int, units: int) -> int | None:
        """From where on so many units are free for so long; None for more than all."""
        room = self.capacity - units
        if room < 0:
            return None
        starts, taken = self._from, self._taken
        last = len(starts) - 1
        index = bisect_right(starts, position) - 1
        while True:
            if taken[index] > room:
                index += 1
                position = starts[index]
            elif index == last or starts[index + 1] - position >= minutes:
                return position
            else:
                index += 1

    def take(self, start: int, end: int, units: int) -> None:
        """Holds so much of it from start to end."""
        low, high = self._cut(start), self._cut(end)
        for index in range(low, high):
            self._taken[index] += units
        for index in (high, low):
            if index and self._taken[index - 1] == self._taken[index]:
                del self._from[index], self._taken[index]

    def _cut(self, at: int) -> int:
        index = bisect_left(self._from, at)
        if index == len(self._from) or self._from[index] != at:
            self._from.insert(index, at)
            self._taken.insert(index, self._taken[index - 1])
        return index


class Bench:
    """The shop as work is placed on it."""

    def __init__(
        self, problem: Problem, coming: set[int], spared: frozenset[int], opens: int
    ) -> None:
        self.problem = problem
        self.opens = opens
        self.coming = coming
        self.spared = spared
        self.held = [Held(capacity) for capacity in problem.capacities]
        self.left = list(problem.stores)
        self.plan: Plan = {}

    def open_from(self, job: Job, way: Way) -> int | None:
        """When what comes before it is over; None where that is not to be."""
        earliest = max(job.ready, self.opens)
        for before, lag in way.after:
            placed = self.plan.get(before)
            if placed is not None:
                earliest = max(earliest, placed.finish + lag)
            elif before in self.coming or before not in self.spared:
                return None
        return earliest

    def fits(self, index: int, number: int) -> Placed | None:
        """Where an activity goes in this way, at the earliest; None where nowhere."""
        job = self.problem.jobs[index]
        way = job.ways[number]
        earliest = self.open_from(job, way)
        if earliest is None:
            return None
        if any(amount > self.left[store] for store, amount in way.takes):
            return None
        found = self._first_room(job, way, earliest)
        return None if found is None else Placed(number, *found)

    def put(self, index: int, placed: Placed) -> None:
        """Takes what the activity takes."""
        way = self.problem.jobs[index].ways[placed.way]
        for resource, units in way.uses:
            low, high = placed.start, placed.finish
            axis = self.problem.resource_axes[resource]
            if axis != CLOCK:
                along = self.problem.axes[axis]
                low, high = along.position_from(low), along.position_from(high)
            self.held[resource].take(low, high, units)
        for store, amount in way.takes:
            self.left[store] -= amount
        self.plan[index] = placed

    def _first_room(self, job: Job, way: Way, earliest: int) -> tuple[int, int] | None:
        """Each resource in turn may put it off, until none does."""
        axes, own = self.problem.axes, self.problem.resource_axes
        while True:
            span = span_from(self.problem, job, way, earliest)
            if span is None:
                return None
            earliest = span[0]
            for resource, units in way.uses:
                axis = own[resource]
                if axis == CLOCK:
                    low, minutes = earliest, span[1] - earliest
                elif axis == way.axis:
                    low, minutes = axes[axis].position_from(earliest), way.minutes
                else:
                    low = axes[axis].position_from(earliest)
                    minutes = axes[axis].position_from(span[1]) - low
                room = self.held[resource].room_from(low, minutes, units)
                if room is None:
                    return None
                if room > low:
                    earliest = room if axis == CLOCK else axes[axis].start_clock(room)
                    break
            else:
                return span


def span_from(
    problem: Problem, job: Job, way: Way, earliest: int
) -> tuple[int, int] | None:
    """The first start and finish along the way's hours; None past the last."""
    if way.axis == CLOCK:
        finish = earliest + way.minutes
        return (earliest, finish) if finish <= job.due else None
    axis = problem.axes[way.axis]
    if not axis.windows:
        return None
    position = axis.position_from(earliest)
    if job.unbroken:
        window = bisect_right(axis.marks, position) - 1
        while window < len(axis.windows):
            position = max(position, axis.marks[window])
            if position + way.minutes <= axis.marks[window + 1]:
                break
            window += 1
        else:
            return None
    if position + way.minutes > axis.length:
        return None
    finish = axis.end_clock(position + way.minutes)
    return (axis.start_clock(position), finish) if finish <= job.due else None


def placed_in_order(
    problem: Problem, choices: Sequence[Choice], opens: int = 0
) -> Plan:
    """These activities in these ways, each as early as those before it allow.

    Nothing begins before the shop opens.
    What does not fit is left out, and with it what cannot do without it.
    """
    choices = list(choices)
    while True:
        plan = _placed(problem, choices, opens)
        # Who relied on a fallback that found no room is not to be done either.
        hollow = spared_by(problem, choices) - spared_by(
            problem, [(index, placed.way) for index, placed in plan.items()]
        )
        if not hollow:
            return plan
        choices = [choice for choice in choices if choice[0] in plan]


def spared_by(problem: Problem, choices: Iterable[Choice]) -> frozenset[int]:
    """What need not be done when these ways are taken."""
    ways = (problem.jobs[index].ways[number] for index, number in choices)
    return frozenset(spared for way in ways for spared in way.spares)


def _placed(problem: Problem, choices: Sequence[Choice], opens: int) -> Plan:
    coming = {index for index, _ in choices}
    bench = Bench(problem, coming, spared_by(problem, choices), opens)
    for index, number in choices:
        found = bench.fits(index, number)
        coming.discard(index)
        if found is not None:
            bench.put(index, found)
    return bench.plan


def in_order(
    problem: Problem, ways: Mapping[int, int], order: Sequence[float]
) -> list[Choice]:
    """By priority, nothing before what it comes after; loops are left out."""
    jobs = problem.jobs
    waits: dict[int, int] = {}
    after: dict[int, list[int]] = {index: [] for index in ways}
    for index, number in ways.items():
        befores = [b for b, _ in jobs[index].ways[number].after if b in ways]
        waits[index] = len(befores)
        for before in befores:
            after[before].append(index)
    ready = [(order[index], index) for index, count in waits.items() if not count]
    heapq.heapify(ready)
    found = []
    while ready:
        _, index = heapq.heappop(ready)
        found.append((index, ways[index]))
        for later in after[index]:
            waits[later] -= 1
            if not waits[later]:
                heapq.heappush(ready, (order[later], later))
    return found
