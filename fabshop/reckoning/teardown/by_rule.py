"""A quick order by plain rules: a first plan, for what is chosen, in no time.

Open what the next task needs, do the tasks that cure or lead on longest first, close
a place when nothing to come needs it open. What gets stuck or late is dropped.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from fabshop.reckoning.teardown.best import Budget
from fabshop.reckoning.teardown.carried_out import first_fault
from fabshop.reckoning.teardown.choice import Step
from fabshop.reckoning.teardown.ordering import Pick
from fabshop.reckoning.teardown.problem import Problem
from fabshop.reckoning.teardown.timing import Plan, Timing, step_minutes


def plan_by_rule(problem: Problem, picks: list[Pick], budget: Budget) -> Plan:
    """An order of as many of the picks as the rules get done; () where none is."""
    left = _without(problem, picks, set())
    covers = _Covers(problem)
    while left and budget.left_s > 0:
        machine = _Machine(problem, covers)
        plan = machine.sessions(left)
        dropped = machine.stuck or _faulty(problem, plan) or _late(problem, plan)
        if not dropped:
            return plan
        left = _without(problem, left, dropped)
    return ()


def likely_picks(problem: Problem, tasks: list[int]) -> list[Pick]:
    """What may well fit into one session: required first, then points for minutes."""
    covers = _Covers(problem)
    picked: dict[int, None] = {}
    opened: set[int] = set()
    minutes = problem.setup
    ready = 0
    left = set(tasks)

    def with_forerunners(task: int) -> list[int]:
        chain = [task]
        for step in chain:
            chain += [b for b in problem.jobs[step].after if b not in chain]
        return [step for step in reversed(chain) if step not in picked]

    def price(task: int) -> tuple[int, set[int], int]:
        chain = with_forerunners(task)
        over: set[int] = set()
        for step in chain:
            job = problem.jobs[step]
            over.update(job.remove, job.fits)
            for place in job.reach + job.remove + job.fits:
                over |= covers.over(place)
        over = {c for c in over - opened if problem.places[c].is_fitted}
        handled = sum(problem.places[c].off + problem.places[c].on for c in over)
        work = sum(problem.jobs[step].minutes for step in chain)
        first = max(problem.jobs[step].earliest for step in chain)
        return work + handled, over, 0 if problem.wait_each else first

    while left:
        prices = {task: price(task) for task in sorted(left)}

        def merit(task: int, prices: dict[int, Any] = prices) -> tuple[bool, float]:
            job = problem.jobs[task]
            worth = 1 if job.required else job.points + 0.1
            return job.required, worth / max(1, prices[task][0])

        task = max(prices, key=merit)
        cost, over, first = prices[task]
        left.discard(task)
        if minutes + cost + max(ready, first) <= problem.axis.length:
            minutes += cost
            opened |= over
            ready = max(ready, first)
            for step in with_forerunners(task):
                picked[step] = None
                left.discard(step)
    return [(task, 0) for task in picked]


class _Covers:
    """What lies over each place by whichever route, and what lies right under it."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self._over: dict[int, frozenset[int]] = {}
        self.under: dict[int, set[int]] = {}
        for index, place in enumerate(problem.places):
            for route in place.routes:
                for over in route:
                    self.under.setdefault(over, set()).add(index)

    def over(self, place: int) -> frozenset[int]:
        """All that may have to come off over a place."""
        if place not in self._over:
            found: set[int] = set()
            waiting = [place]
            while waiting:
                for route in self.problem.places[waiting.pop()].routes:
                    waiting += [over for over in route if over not in found]
                    found.update(route)
            self._over[place] = frozenset(found)
        return self._over[place]


def _without(problem: Problem, picks: list[Pick], dropped: set[int]) -> list[Pick]:
    """The picks less those, and less what comes after them; sessions close up."""
    gone = set(dropped)
    while more := {
        task
        for task, _ in picks
        if task not in gone and gone.intersection(problem.jobs[task].after)
    }:
        gone |= more
    kept = [pick for pick in picks if pick[0] not in gone]
    numbers = {k: at for at, k in enumerate(sorted({k for _, k in kept}))}
    return [(task, numbers[k]) for task, k in kept]


def _faulty(problem: Problem, plan: Plan) -> set[int]:
    """Where a step cannot be done: what keeps it open, else the last task up to it."""
    fault = first_fault(problem, plan)
    if fault is None:
        return set()
    steps = plan[fault.session]
    if fault.do == "refit":
        later = [s.index for s in steps[steps.index(fault) :] if s.do == "task"]
        keepers = {t for t in later if fault.index in problem.jobs[t].keeps_open}
        if keepers:
            return keepers
    upto = steps[: steps.index(fault) + 1]
    tasks = [step.index for step in upto if step.do == "task"]
    return {tasks[-1] if tasks else next(s.index for s in steps if s.do == "task")}


def _late(problem: Problem, plan: Plan) -> set[int]:
    """Where the order runs out of time: what counts least, for the minutes missing."""
    if Timing(problem, plan).earliest() is not None:
        return set()
    steps = [step for session in plan for step in session]
    minutes = sum(step_minutes(problem, step) for step in steps)
    missing = minutes + problem.setup * len(plan) - problem.axis.length

    def counts(task: int) -> tuple[bool, float]:
        job = problem.jobs[task]
        return job.required, (job.points + 0.1) / job.minutes

    dropped: set[int] = set()
    for task in sorted((s.index for s in steps if s.do == "task"), key=counts):
        if dropped and missing <= 0:
            break
        dropped.add(task)
        missing -= problem.jobs[task].minutes
    return dropped


@dataclass
class _Machine:
    problem: Problem
    covers: _Covers
    off: set[int] = field(default_factory=set)
    bonded: set[int] = field(default_factory=set)
    stuck: set[int] = field(default_factory=set)

    def sessions(self, picks: list[Pick]) -> Plan:
        """The steps of every session by the rules; `stuck` names what would not go."""
        places = self.problem.places
        self.off = {index for index, c in enumerate(places) if not c.is_fitted}
        waiting = {index for index in self.off if places[index].state == "off"}
        plan = []
        count = 1 + max((k for _, k in picks), default=-1)
        for k in range(count):
            tasks = [task for task, at in picks if at == k]
            session = _Session(self, k, tasks, waiting, is_last=k + 1 == count)
            plan.append(session.run())
            waiting -= session.put_on
            if self.stuck:
                break
        return tuple(plan)


@dataclass
class _Session:
    machine: _Machine
    number: int
    tasks: list[int]
    waiting: set[int]
    is_last: bool
    put_on: set[int] = field(default_factory=set)
    taken_off: set[int] = field(default_factory=set)
    steps: list[Step] = field(default_factory=list)

    def run(self) -> tuple[Step, ...]:
        jobs = self.machine.problem.jobs
        left = sorted(self.tasks, key=self._urgency)
        while left:
            done = next((task for task in left if self._try(task, left)), None)
            if done is None:
                self.machine.stuck = {left[-1]}
                return ()
            left.remove(done)
            self._close(left)
        if not any(jobs[task].closed for task in self.tasks):
            self._open_what_lies_off()
        self._close([])
        open_still = self.taken_off | (self.waiting if self.is_last else set())
        if open_still - self.put_on:
            self.machine.stuck = {min(self.tasks, key=lambda t: jobs[t].points)}
        return tuple(self.steps)

    def _urgency(self, task: int) -> tuple[bool, int, int, int]:
        """Closed work last; what is in the shop first; long cures before short."""
        job = self.machine.problem.jobs[task]
        ready = job.earliest if self.machine.problem.wait_each else 0
        return job.closed, ready, -self._leads_to(task), task

    def _leads_to(self, task: int) -> int:
        """The longest way of cures and work from this task on, in this session."""
        jobs = self.machine.problem.jobs
        job = jobs[task]
        later = [t for t in self.tasks if task in jobs[t].after]
        return job.minutes + job.cure + max(map(self._leads_to, later), default=0)

    def _try(self, task: int, left: list[int]) -> bool:
        """Does the task, with what must come off for it, if that can be done now."""
        jobs = self.machine.problem.jobs
        job = jobs[task]
        others = [jobs[t] for t in left if t != task]
        if any(before in left for before in job.after):
            return False
        if any(set(other.keeps_open) & set(job.fits) for other in others):
            return False
        needed = [self._needed_by(other) for other in left if other != task]
        if any(not over.isdisjoint(job.fits) for over in needed):
            return False
        if job.closed and not all(other.closed for other in others):
            return False
        if job.closed:
            self._open_what_lies_off()
            self._close([], but=frozenset(job.fits))
            if any(other.fits for other in others):
                return False
            if self.taken_off - self.put_on - set(job.fits):
                return False
        needs = self._needs(task)
        if needs is None:
            return False
        self._take_off(needs)
        if job.fits and not self._fits_over_nothing_open(task, left):
            return False
        self.steps.append(Step("task", task, self.number))
        self.machine.off -= set(job.fits)
        self.put_on |= set(job.fits)
        self.machine.bonded |= set(job.fits) if job.for_good else set()
        return True

    def _fits_over_nothing_open(self, task: int, left: list[int]) -> bool:
        """What still lies off under what the task fits goes on before it."""
        fits = set(self.machine.problem.jobs[task].fits)
        lies_off = self.waiting - self.put_on if self.is_last else set()
        if fits & self._over(lies_off - fits):
            self._open_what_lies_off()
        others = [other for other in left if other != task]
        kept = self.machine.problem.jobs[task].keeps_open
        self._close(others, but=frozenset(self._needed_by(task)).union(kept))
        still_off = (self.taken_off - self.put_on) | (lies_off - self.put_on)
        return not fits & self._over(still_off - fits)

    def _needs(self, task: int) -> list[int] | None:
        """What must come off for the task now, outermost first."""
        job = self.machine.problem.jobs[task]
        order: list[int] = []
        fine = all(self._open(place, order, ()) for place in job.reach) and all(
            self._take(place, order, ()) for place in job.remove + job.fits
        )
        return order if fine else None

    def _take(self, place: int, order: list[int], under: tuple[int, ...]) -> bool:
        if place in self.machine.off or place in order:
            return under != () or self._open(place, order, (place,))
        if place in self.put_on | self.machine.bonded or place in under:
            return False
        if not self._open(place, order, (*under, place)):
            return False
        order.append(place)
        return True

    def _open(self, place: int, order: list[int], under: tuple[int, ...]) -> bool:
        facts = self.machine.problem.places[place]
        if facts.is_shut:
            return False
        for route in facts.routes or ((),):
            tried = list(order)
            if all(self._take(over, tried, (*under, place)) for over in route):
                order[:] = tried
                return True
        return False

    def _take_off(self, needs: list[int]) -> None:
        for place in needs:
            self.steps.append(Step("remove", place, self.number))
            self.machine.off.add(place)
            self.taken_off.add(place)

    def _needed_by(self, task: int) -> set[int]:
        """Everything that is off over what the task needs, by whichever route."""
        job = self.machine.problem.jobs[task]
        over = self._over(job.reach + job.remove + job.fits)
        return over.union(job.remove, job.fits)

    def _over(self, places: Iterable[int]) -> set[int]:
        return set().union(*(self.machine.covers.over(place) for place in places))

    def _is_open(self, place: int) -> bool:
        facts = self.machine.problem.places[place]
        off = self.machine.off
        open_way = any(off.issuperset(route) for route in facts.routes)
        return not facts.is_shut and (open_way or not facts.routes)

    def _open_what_lies_off(self) -> None:
        """In the last session what lay off goes on too: what covers it comes off."""
        for place in sorted(self.waiting - self.put_on if self.is_last else ()):
            order: list[int] = []
            if self._open(place, order, ()):
                self._take_off(order)

    def _close(self, left: list[int], but: frozenset[int] = frozenset()) -> None:
        """Puts on what nothing to come needs off, innermost first."""
        jobs = self.machine.problem.jobs
        to_come = set(but)
        if self.is_last:
            to_come |= self._over(self.waiting - self.put_on)
        for task in left:
            to_come |= self._needed_by(task) | set(jobs[task].keeps_open)
        may = self.taken_off | (self.waiting if self.is_last else set())
        grew = True
        while grew:
            grew = False
            if self.is_last and not left:
                to_come = set(but) | self._over(self.waiting - self.put_on)
            for place in sorted(may - self.put_on - to_come):
                if not self._is_open(place):
                    continue
                still_off = (may - self.put_on) | to_come
                over_something = self.machine.covers.under.get(place, set()) & still_off
                if not over_something:
                    self.steps.append(Step("refit", place, self.number))
                    self.machine.off.discard(place)
                    self.put_on.add(place)
                    grew = True
