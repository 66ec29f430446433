"""The schedule question in whole minutes from its origin, with what can never be."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cached_property

from fabshop.reckoning.questions.schedule import Activity, ScheduleQuestion
from fabshop.reckoning.questions.strict import minute_of
from fabshop.reckoning.teardown.axis import Axis

_LAST = minute_of("9999-12-31T23:59")
"""The end of the calendar: work beyond it has no moment that could be told."""
CLOCK = 0
"""The axis that is the clock itself, for what uses nothing with windows."""
_AMOUNT_STEPS = 1_000

Windows = tuple[tuple[int, int], ...]


@dataclass(frozen=True)
class Way:
    """One way to do an activity, everything by index."""

    id: str
    minutes: int
    axis: int
    uses: tuple[tuple[int, int], ...]
    """Resource and how much of it, held from start to finish."""
    takes: tuple[tuple[int, int], ...]
    """Store and thousandths."""
    after: tuple[tuple[int, int], ...]
    """Activity and lag, the activity's own among them."""
    spares: frozenset[int]
    points: int


@dataclass(frozen=True)
class Job:
    """An activity; `ways` as in the question, of which only some may be open."""

    id: str
    ways: tuple[Way, ...]
    ready: int
    due: int
    unbroken: bool
    required: bool
    pinned: int | None


@dataclass(frozen=True)
class Problem:
    """What the planner works on; minutes count from the origin."""

    origin: int
    horizon: int
    """No work ends later: the deadline, or a moment by which all could be done."""
    has_deadline: bool
    capacities: tuple[int, ...]
    resource_ids: tuple[str, ...]
    resource_axes: tuple[int, ...]
    windows: tuple[Windows | None, ...]
    """Of each axis; None for the clock."""
    stores: tuple[int, ...]
    store_ids: tuple[str, ...]
    jobs: tuple[Job, ...]

    @cached_property
    def axes(self) -> tuple[Axis, ...]:
        """Worked minutes of each set of windows, up to the horizon."""
        return tuple(
            Axis([(0, self.horizon)] if spans is None else list(spans), self.horizon)
            for spans in self.windows
        )

    def within(self, horizon: int) -> Problem:
        """The same with everything ended by then."""
        jobs = tuple(replace(job, due=min(job.due, horizon)) for job in self.jobs)
        return replace(self, horizon=min(self.horizon, horizon), jobs=jobs)


def problem_of(question: ScheduleQuestion) -> Problem:
    """The question, every name resolved and every moment counted from the origin."""
    return _Reading(question).problem()


class _Reading:
    def __init__(self, question: ScheduleQuestion) -> None:
        self.question = question
        self.origin = minute_of(question.origin)
        self.places = {one.id: index for index, one in enumerate(question.activities)}
        self.resources = {one.id: index for index, one in enumerate(question.resources)}
        self.stores = {one.id: index for index, one in enumerate(question.stores)}
        self.windows: list[Windows | None] = [None]
        self.spans = [self._spans(one.windows) for one in question.resources]
        self.common: dict[frozenset[int], int] = {}

    def problem(self) -> Problem:
        question = self.question
        jobs = tuple(self._job(activity) for activity in question.activities)
        horizon, limit = self._horizon(), self._deadline()
        return Problem(
            origin=self.origin,
            horizon=max(0, horizon),
            has_deadline=question.deadline is not None,
            capacities=tuple(one.capacity for one in question.resources),
            resource_ids=tuple(self.resources),
            resource_axes=tuple(self._axis(spans) for spans in self.spans),
            windows=tuple(self.windows),
            stores=tuple(math.floor(_exact(one.amount)) for one in question.stores),
            store_ids=tuple(self.stores),
            jobs=tuple(replace(job, due=min(job.due, limit)) for job in jobs),
        )

    def _spans(self, windows: tuple[tuple[str, str], ...] | None) -> Windows | None:
        """From the origin on; windows that touch are one."""
        if windows is None:
            return None
        merged: list[tuple[int, int]] = []
        for start_text, end_text in windows:
            start = max(0, minute_of(start_text) - self.origin)
            end = minute_of(end_text) - self.origin
            if end <= start:
                continue
            if merged and merged[-1][1] == start:
                merged[-1] = (merged[-1][0], end)
            else:
                merged.append((start, end))
        return tuple(merged)

    def _axis(self, spans: Windows | None) -> int:
        if spans not in self.windows:
            self.windows.append(spans)
        return self.windows.index(spans)

    def _common_axis(self, resources: frozenset[int]) -> int:
        """When all of these are available together."""
        if resources not in self.common:
            spans: Windows | None = None
            for resource in sorted(resources):
                spans = _both(spans, self.spans[resource])
            self.common[resources] = self._axis(spans)
        return self.common[resources]

    def _deadline(self) -> int:
        """As it is told, which may be before the origin: then nothing can be done."""
        if self.question.deadline is None:
            return self._horizon()
        return minute_of(self.question.deadline) - self.origin

    def _horizon(self) -> int:
        question = self.question
        if question.deadline is not None:
            return self._deadline()
        last = max((spans[-1][1] for spans in self.spans if spans), default=0)
        for activity in question.activities:
            if activity.ready is not None:
                last = max(last, minute_of(activity.ready) - self.origin)
        work = sum(
            max(
                way.minutes + max((one.lag for one in way.after), default=0)
                for way in activity.ways
            )
            + max((one.lag for one in activity.after), default=0)
            for activity in question.activities
        )
        return min(last + work, _LAST - self.origin)

    def _job(self, activity: Activity) -> Job:
        ready, due = 0, 1 << 60
        if activity.ready is not None:
            ready = max(0, minute_of(activity.ready) - self.origin)
        if activity.due is not None:
            due = minute_of(activity.due) - self.origin
        names = [way.id for way in activity.ways]
        return Job(
            id=activity.id,
            ways=tuple(self._way(activity, n) for n in range(len(activity.ways))),
            ready=ready,
            due=due,
            unbroken=activity.unbroken,
            required=activity.required,
            pinned=None if activity.pinned is None else names.index(activity.pinned),
        )

    def _way(self, activity: Activity, number: int) -> Way:
        way = activity.ways[number]
        # A way of no minutes is a milestone: it happens at once and holds nothing.
        used = {name: units for name, units in way.uses.items() if units}
        uses = sorted((self.resources[name], n) for name, n in used.items())
        if not way.minutes:
            uses = []
        lags: dict[int, int] = {}
        for one in (*activity.after, *way.after):
            before = self.places[one.id]
            lags[before] = max(one.lag, lags.get(before, 0))
        return Way(
            id=way.id,
            minutes=way.minutes,
            axis=self._common_axis(frozenset(resource for resource, _ in uses)),
            uses=tuple(uses),
            takes=tuple(
                sorted(
                    (self.stores[name], math.ceil(_exact(amount)))
                    for name, amount in way.takes.items()
                    if amount
                )
            ),
            after=tuple(sorted(lags.items())),
            spares=frozenset(self.places[name] for name in way.spares),
            points=way.points,
        )


def _exact(amount: float) -> float:
    """Thousandths; what is finer rounds to the safe side, 0.1 + 0.2 does not."""
    return round(amount * _AMOUNT_STEPS, 6)


def _both(some: Windows | None, others: Windows | None) -> Windows | None:
    """When both are available; None is always."""
    if some is None or others is None:
        return others if some is None else some
    shared = []
    here = there = 0
    while here < len(some) and there < len(others):
        low = max(some[here][0], others[there][0])
        high = min(some[here][1], others[there][1])
        if low < high:
            shared.append((low, high))
        if some[here][1] <= others[there][1]:
            here += 1
        else:
            there += 1
    return tuple(shared)
