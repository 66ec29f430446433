"""The times of a plan whose order is fixed: as early, and as late, as they can be."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass

from fabshop.reckoning.teardown.choice import Step
from fabshop.reckoning.teardown.problem import Job, Problem

Plan = tuple[tuple[Step, ...], ...]
"""The steps of each session, in order."""


@dataclass(frozen=True)
class Times:
    """Worked minutes at which each session begins and each of its steps starts."""

    begins: tuple[int, ...]
    starts: tuple[tuple[int, ...], ...]


class Timing:
    """What every step of a fixed order must wait for, and the two extreme schedules."""

    def __init__(self, problem: Problem, plan: Plan) -> None:
        self.problem = problem
        self.plan = plan
        self._cured_before = _cured_before(problem, plan)

    def minutes(self, step: Step) -> int:
        """How long a step takes."""
        return step_minutes(self.problem, step)

    def earliest(self) -> Times | None:
        """Every step as early as this order allows; None where it runs out of time."""
        axis = self.problem.axis
        begins: list[int] = []
        starts: list[tuple[int, ...]] = []
        ends: dict[Step, int] = {}
        now = 0
        for steps in self.plan:
            now = max(now, self.may_begin(steps))
            begins.append(now)
            now += self.problem.setup
            mine = []
            for step in steps:
                now = max(now, self.not_before(step))
                for other in self._cured_before.get(step, ()):
                    cure = self.problem.jobs[other.index].cure
                    now = max(now, axis.cured_from(ends[other], cure))
                if step.do == "task":
                    now = self._fits_a_window(self.problem.jobs[step.index], now)
                mine.append(now)
                now += self.minutes(step)
                ends[step] = now
                if now > self.last_end(step):
                    return None
            starts.append(tuple(mine))
        return Times(tuple(begins), tuple(starts))

    def latest(self) -> Times:
        """Every step as late as this order allows; the order must be possible."""
        axis = self.problem.axis
        begins: list[int] = []
        starts: list[tuple[int, ...]] = []
        ends_by: dict[Step, int] = {}
        now = axis.length
        for steps in reversed(self.plan):
            mine = []
            for step in reversed(steps):
                end = min(now, self.last_end(step), ends_by.get(step, now))
                now = end - self.minutes(step)
                if step.do == "task":
                    now = self._fits_a_window_before(self.problem.jobs[step.index], now)
                mine.append(now)
                for other in self._cured_before.get(step, ()):
                    cure = self.problem.jobs[other.index].cure
                    by = axis.last_end_before(now, cure)
                    ends_by[other] = min(by, ends_by.get(other, by))
            now -= self.problem.setup
            begins.append(now)
            starts.append(tuple(reversed(mine)))
        return Times(tuple(reversed(begins)), tuple(reversed(starts)))

    def cured_clock(self, step: Step) -> int:
        """The clock from which all that the step waits for has cured; 0 for nothing."""
        early = self.earliest()
        if early is None or step not in self._cured_before:
            return 0
        ends = {
            done: start + self.minutes(done)
            for steps, starts in zip(self.plan, early.starts, strict=True)
            for done, start in zip(steps, starts, strict=True)
        }
        return max(
            self.problem.axis.end_clock(ends[other])
            + self.problem.jobs[other.index].cure
            for other in self._cured_before[step]
        )

    def may_begin(self, steps: tuple[Step, ...]) -> int:
        """The first position at which a session of these steps may begin."""
        if self.problem.wait_each:
            return 0
        return max(self.problem.jobs[s.index].earliest for s in steps if s.do == "task")

    def not_before(self, step: Step) -> int:
        """The first position at which what the step needs is in the shop."""
        return self.problem.jobs[step.index].earliest if step.do == "task" else 0

    def last_end(self, step: Step) -> int:
        """The last position at which the step may end so as to be cured in time."""
        if step.do == "task":
            return self.problem.jobs[step.index].last_end
        return self.problem.axis.length

    def _fits_a_window(self, job: Job, start: int) -> int:
        marks = self.problem.axis.marks
        if not job.unbroken:
            return start
        window = max(bisect_right(marks, start) - 1, 0)
        while window + 1 < len(marks) and start + job.minutes > marks[window + 1]:
            window += 1
            start = max(start, marks[window])
        return start

    def _fits_a_window_before(self, job: Job, start: int) -> int:
        marks = self.problem.axis.marks
        if not job.unbroken or start < 0:
            return start
        window = bisect_right(marks, start) - 1
        if window + 1 < len(marks) and start + job.minutes > marks[window + 1]:
            start = marks[window + 1] - job.minutes
            while start < marks[window] and window:
                window -= 1
                start = marks[window + 1] - job.minutes
        return start


def step_minutes(problem: Problem, step: Step) -> int:
    """How long a step takes."""
    if step.do == "task":
        return problem.jobs[step.index].minutes
    place = problem.places[step.index]
    return place.off if step.do == "remove" else place.on


def ticks_of(problem: Problem, plan: Plan, times: Times, ticks: int) -> dict[Step, int]:
    """The start of every step in ticks, the instant ones one after another."""
    instants = 0
    found = {}
    for steps, starts in zip(plan, times.starts, strict=False):
        for step, start in zip(steps, starts, strict=True):
            found[step] = start * ticks + instants
            instants += not step_minutes(problem, step)
    return found


def _cured_before(problem: Problem, plan: Plan) -> dict[Step, list[Step]]:
    """For each step the tasks of the plan that must have cured before it starts."""
    tasks = {step.index: step for steps in plan for step in steps if step.do == "task"}
    curing = [step for step in tasks.values() if problem.jobs[step.index].cure]
    waits: dict[Step, list[Step]] = {}
    for steps in plan:
        for step in steps:
            if step.do == "task":
                closes = problem.jobs[step.index].fits
                after = problem.jobs[step.index].after
            else:
                closes = (step.index,) if step.do == "refit" else ()
                after = ()
            for other in curing:
                keeps = problem.jobs[other.index].keeps_open
                holds_back = (
                    step != other
                    and other.session <= step.session
                    and not set(keeps).isdisjoint(closes)
                )
                if holds_back or (step.do == "task" and other.index in after):
                    waits.setdefault(step, []).append(other)
    return waits
