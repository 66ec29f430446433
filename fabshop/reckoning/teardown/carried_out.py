"""Whether an order can be carried out on the machine, apart from its times."""

from __future__ import annotations

from dataclasses import dataclass, field

from fabshop.reckoning.teardown.choice import Step
from fabshop.reckoning.teardown.problem import Job, Problem
from fabshop.reckoning.teardown.timing import Plan


def first_fault(problem: Problem, plan: Plan) -> Step | None:
    """The first step that cannot be done where it stands; None where all can.

    What is not back on at the end of a session is the fault of its last step.
    """
    machine = _Machine(problem)
    for number, steps in enumerate(plan):
        machine.begin(steps, is_last=number + 1 == len(plan))
        for step in steps:
            if not machine.can(step):
                return step
        if machine.is_left_open():
            return steps[-1]
    return None


@dataclass
class _Machine:
    problem: Problem
    off: set[int] = field(default_factory=set)
    lies_off: set[int] = field(default_factory=set)
    bonded: set[int] = field(default_factory=set)
    done: set[int] = field(default_factory=set)

    def __post_init__(self) -> None:
        places = self.problem.places
        self.off = {index for index, c in enumerate(places) if not c.is_fitted}
        self.lies_off = {i for i in self.off if places[i].state == "off"}

    def begin(self, steps: tuple[Step, ...], *, is_last: bool) -> None:
        self.is_last = is_last
        self.taken_off: set[int] = set()
        self.touched: set[int] = set()
        self.to_do = {step.index for step in steps if step.do == "task"}
        self.is_closed = False

    def is_left_open(self) -> bool:
        return bool(self.taken_off or (self.is_last and self.lies_off))

    def can(self, step: Step) -> bool:
        """Does the step if it can be done."""
        if step.do == "task":
            return self._task(step.index, self.problem.jobs[step.index])
        if self.is_closed or not self._is_open(step.index, self.off):
            return False
        if step.do == "remove":
            if step.index in self.off | self.touched | self.bonded:
                return False
            self.off.add(step.index)
            self.taken_off.add(step.index)
            self.touched.add(step.index)
            return True
        may = self.taken_off | (self.lies_off if self.is_last else set())
        return step.index in may and self._put_on({step.index}, by=-1)

    def _is_open(self, place: int, off: set[int]) -> bool:
        facts = self.problem.places[place]
        if facts.is_shut:
            return False
        return not facts.routes or any(off.issuperset(way) for way in facts.routes)

    def _put_on(self, places: set[int], by: int) -> bool:
        jobs = self.problem.jobs
        if any(places & set(jobs[t].keeps_open) for t in self.to_do - {by}):
            return False
        self.off -= places
        self.taken_off -= places
        self.lies_off -= places
        self.touched |= places
        return True

    def _task(self, task: int, job: Job) -> bool:
        fits, while_done = set(job.fits), self.off - set(job.fits)
        others = [self.problem.jobs[t] for t in self.to_do - {task}]
        waiting = self.lies_off if self.is_last else set()
        if (
            task not in self.to_do
            or task in self.done
            or not self.done.issuperset(job.after)
            or not self.off.issuperset(fits)
            or not while_done.issuperset(job.remove)
            or not all(self._is_open(place, self.off) for place in fits)
            or not all(self._is_open(place, while_done) for place in job.reach)
            or (fits and self.is_closed)
            or (job.closed and any(other.fits for other in others))
            or (job.closed and (self.taken_off | waiting) - fits)
            or not self._put_on(fits, by=task)
        ):
            return False
        self.to_do.discard(task)
        self.done.add(task)
        self.is_closed = self.is_closed or job.closed
        self.bonded |= fits if job.for_good else set()
        return True
