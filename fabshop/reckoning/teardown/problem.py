"""The teardown question by index, with what can never matter left away."""

from __future__ import annotations

from dataclasses import dataclass

from fabshop.reckoning.questions.strict import minute_of
from fabshop.reckoning.questions.teardown import TeardownQuestion
from fabshop.reckoning.teardown.axis import Axis


@dataclass(frozen=True)
class Place:
    """A component: `routes` are what must be off, none of them empty; () is open."""

    id: str
    off: int
    on: int
    routes: tuple[tuple[int, ...], ...]
    is_shut: bool
    """No route can ever be opened."""
    state: str
    every_route: tuple[tuple[int, ...], ...]
    """The routes as they were asked, with those that can never be opened."""

    @property
    def is_fitted(self) -> bool:
        return self.state == "fitted"


@dataclass(frozen=True)
class Job:
    """A task: names as indexes, its ready moment as the first worked minute."""

    id: str
    minutes: int
    reach: tuple[int, ...]
    remove: tuple[int, ...]
    fits: tuple[int, ...]
    for_good: bool
    cure: int
    keeps_open: tuple[int, ...]
    unbroken: bool
    closed: bool
    after: tuple[int, ...]
    earliest: int
    last_end: int
    required: bool
    points: int


@dataclass(frozen=True)
class Problem:
    """One teardown question, ready to be modelled."""

    axis: Axis
    setup: int
    places: tuple[Place, ...]
    jobs: tuple[Job, ...]
    wait_each: bool
    late_start: bool
    max_sessions: int

    def fitters(self, place: int) -> list[int]:
        """The tasks that put this component on."""
        return [i for i, job in enumerate(self.jobs) if place in job.fits]


def start_spans(axis: Axis, job: Job) -> list[tuple[int, int]]:
    """From and to where a task may start for its own sake; none: it never can."""
    latest = job.last_end - job.minutes
    spans = [(job.earliest, latest)]
    if job.unbroken:
        marks = axis.marks
        spans = [
            (max(low, job.earliest), min(high - job.minutes, latest))
            for low, high in zip(marks, marks[1:], strict=False)
        ]
    return [(low, high) for low, high in spans if low <= high]


def problem_of(question: TeardownQuestion) -> Problem:
    """The question compiled; the answer does not depend on what it drops."""
    axis = Axis.of(question.windows, question.deadline)
    where = {place.id: index for index, place in enumerate(question.components)}
    order = {task.id: index for index, task in enumerate(question.tasks)}
    fitted_by_a_task = {where[name] for task in question.tasks for name in task.fits}

    def places(names: tuple[str, ...]) -> tuple[int, ...]:
        return tuple(dict.fromkeys(where[name] for name in names))

    jobs = tuple(
        Job(
            id=task.id,
            minutes=task.minutes,
            reach=places(task.reach),
            remove=places(task.remove),
            fits=places(task.fits),
            for_good=task.for_good,
            cure=task.cure,
            keeps_open=places(task.keeps_open),
            unbroken=task.unbroken,
            closed=task.closed,
            after=tuple(dict.fromkeys(order[name] for name in task.after)),
            earliest=0 if task.ready is None else _from(axis, task.ready),
            last_end=axis.last_end(task.cure),
            required=task.required,
            points=task.points,
        )
        for task in question.tasks
    )
    raw = [
        tuple(tuple(dict.fromkeys(where[name] for name in route)) for route in c.routes)
        for c in question.components
    ]
    states: list[str] = [component.state for component in question.components]
    always_off = {
        index
        for index, state in enumerate(states)
        if state == "absent" and index not in fitted_by_a_task
    }
    can_be_off = _can_be_off(raw, states)
    return Problem(
        axis=axis,
        setup=question.setup_minutes,
        places=tuple(
            Place(
                component.id,
                component.off,
                component.on,
                *_open_routes(raw[index], always_off, can_be_off),
                component.state,
                raw[index],
            )
            for index, component in enumerate(question.components)
        ),
        jobs=jobs,
        wait_each=question.wait_for == "each",
        late_start=question.prefer == "late_start",
        max_sessions=question.max_sessions,
    )


def _from(axis: Axis, moment: str) -> int:
    return axis.position_from(minute_of(moment))


def _can_be_off(
    routes: list[tuple[tuple[int, ...], ...]], states: list[str]
) -> set[int]:
    """The components that are off, or can ever come off, by some route."""
    off = {index for index, state in enumerate(states) if state != "fitted"}
    grew = True
    while grew:
        found = {
            index
            for index, ways in enumerate(routes)
            if index not in off
            and (not ways or any(off.issuperset(way) for way in ways))
        }
        off |= found
        grew = bool(found)
    return off


def _open_routes(
    ways: tuple[tuple[int, ...], ...], always_off: set[int], can_be_off: set[int]
) -> tuple[tuple[tuple[int, ...], ...], bool]:
    """The routes worth a choice, and whether there is none at all."""
    if not ways:
        return (), False
    usable = [frozenset(way) - always_off for way in ways if can_be_off.issuperset(way)]
    least = [way for way in usable if not any(other < way for other in usable)]
    if any(not way for way in least):
        return (), False
    kept = dict.fromkeys(tuple(sorted(way)) for way in least)
    return tuple(kept), not kept
