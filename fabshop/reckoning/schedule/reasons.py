"""Why an activity is left out, or why what is pinned cannot be, in plain words."""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property

from fabshop.reckoning import solver
from fabshop.reckoning.questions.strict import moment_of
from fabshop.reckoning.schedule.best import AIMS, Best, Budget
from fabshop.reckoning.schedule.model import Model, on_loops
from fabshop.reckoning.schedule.place import span_from
from fabshop.reckoning.schedule.problem import Job, Problem, Way
from fabshop.reckoning.schedule.scope import Scope, scope_of

_EFFORT = 1.0
_ALONE_S = 0.3


def left_out(problem: Problem, best: Best, budget: Budget) -> list[dict[str, str]]:
    """Each activity that the plan does not do, with the reason."""
    reasons = _Reasons(problem, best, budget)
    return [
        {"activity": job.id, "why": reasons.why(index, job)}
        for index, job in enumerate(problem.jobs)
        if index not in best.plan
    ]


class _Reasons:
    def __init__(self, problem: Problem, best: Best, budget: Budget) -> None:
        self.problem, self.plan, self.budget = problem, best.plan, budget
        self.is_proven = best.gap is None or AIMS[best.gap] == "finish"
        self.scope = scope_of(problem)

    def why(self, index: int, job: Job) -> str:
        """The first reason that holds, the plainest first."""
        jobs = self.problem.jobs
        return (
            self._spared(index)
            or self._in_circles(index, job)
            or (
                ""
                if self.scope.is_open(index)
                else never(self.problem, self.scope, job)
            )
            or self._comes_after(job)
            or self._not_worth_it(index, job)
            or self._among_the_others(index, jobs)
        )

    def _spared(self, index: int) -> str:
        for other, placed in self.plan.items():
            way = self.problem.jobs[other].ways[placed.way]
            if index in way.spares:
                other_id = self.problem.jobs[other].id
                return f"need not be done: {other_id!r} is done in the way {way.id!r}"
        return ""

    def _comes_after(self, job: Job) -> str:
        missed = [_missing(self.problem, self.plan, way) for way in job.ways]
        if all(missed):
            return f"comes after {missed[0]!r}, which is left out"
        return ""

    def _in_circles(self, index: int, job: Job) -> str:
        """Where every way waits for others of which the same is true."""
        if index not in self._loops:
            return ""
        befores = {b for way in job.ways for b, _ in way.after}
        names = [self.problem.jobs[b].id for b in sorted(befores & self._loops)]
        return f"would come after itself, by way of {' or '.join(map(repr, names))}"

    @cached_property
    def _loops(self) -> set[int]:
        jobs, spared = self.problem.jobs, self.scope.sparers
        stuck = {i for i in range(len(jobs)) if not spared[i]}
        while free := {
            i
            for i in stuck
            if any(not stuck & {b for b, _ in way.after} for way in jobs[i].ways)
        }:
            stuck -= free
        arcs = [(i, b) for i in stuck for way in jobs[i].ways for b, _ in way.after]
        return set(on_loops(sorted(stuck), arcs))

    def _not_worth_it(self, index: int, job: Job) -> str:
        points = max(job.ways[n].points for n in self.scope.ways[index])
        if job.required or points > 0:
            return ""
        if points < 0:
            return f"is not required and costs points ({points})"
        return (
            "is not required, brings no points, and found no gap to be done in at no "
            "cost"
        )

    def _among_the_others(self, index: int, jobs: tuple[Job, ...]) -> str:
        ended = self._alone(index)
        if ended is solver.Ended.IMPOSSIBLE:
            return (
                "cannot be done in time whatever else is left out: the hours, what it "
                "comes after and what there is of everything do not allow it"
            )
        if not self.is_proven:
            return "no plan with it was found in the time that does as well; not proven"
        if ended is solver.Ended.NOTHING:
            return "the best plan is one without it"
        return (
            "could be done, but not together with what is planned, "
            "which counts for more or as much"
        )

    def _alone(self, index: int) -> solver.Ended:
        """Whether any plan at all does this, others only where they help it."""
        if self.budget.left_s <= 0:
            return solver.Ended.NOTHING
        model = Model(self.problem, self.scope)
        model.model.add(model.done[index] == 1)
        limit = min(_ALONE_S, self.budget.left_s)
        return self.budget.run(
            model.model, limit_s=limit, effort=_EFFORT, stop_at_first=True
        ).ended


def _missing(problem: Problem, plan: object, way: Way) -> str:
    assert isinstance(plan, dict)
    for before, _ in way.after:
        spared = any(
            before in problem.jobs[i].ways[placed.way].spares
            for i, placed in plan.items()
        )
        if before not in plan and not spared:
            return problem.jobs[before].id
    return ""


def never(problem: Problem, scope: Scope, job: Job) -> str:
    """Why none of its ways could be done even if it were alone in the shop."""
    numbers = range(len(job.ways)) if job.pinned is None else [job.pinned]
    whys = [_never_this_way(problem, scope, job, job.ways[n]) for n in numbers]
    if len(whys) == 1:
        return whys[0]
    if len(set(whys)) == 1:
        return f"in every way: {whys[0]}"
    told = (
        f"in the way {job.ways[n].id!r} it {why}"
        for n, why in zip(numbers, whys, strict=True)
    )
    return "; ".join(told)


def _never_this_way(problem: Problem, scope: Scope, job: Job, way: Way) -> str:
    for resource, units in way.uses:
        if units > problem.capacities[resource]:
            there_is = problem.capacities[resource]
            name = problem.resource_ids[resource]
            return f"wants {units} of {name!r}, and there is {there_is}"
    for store, amount in way.takes:
        if amount > problem.stores[store]:
            name = problem.store_ids[store]
            return (
                f"takes {amount / 1000:g} of {name!r}, and there is only "
                f"{problem.stores[store] / 1000:g}"
            )
    for before, _ in way.after:
        if not scope.is_open(before) and not scope.sparers[before]:
            return f"comes after {problem.jobs[before].id!r}, which cannot be done"
    along = problem.axes[way.axis]
    who = " and ".join(repr(problem.resource_ids[r]) for r, _ in way.uses)
    has_limit = problem.has_deadline or job.due < problem.horizon
    by = f"by {moment_of(problem.origin + job.due)}" if has_limit else "in the hours"
    there = f"lie before {by[3:]}" if has_limit else "are entered"
    if not along.length:
        return f"finds no hours of {who}: none {there}" if who else f"is due {by}"
    if way.minutes > along.length:
        return (
            f"takes {way.minutes} minutes, and only {along.length} minutes"
            f"{f' of {who}' if who else ''} {there}"
        )
    longest = max(end - start for start, end in along.windows)
    if job.unbroken and way.minutes > longest:
        return (
            f"may not be suspended, and its {way.minutes} minutes fit no window; "
            f"the longest has {longest}"
        )
    since = ""
    if span_from(problem, replace(job, ready=0), way, 0) is not None:
        since = "once what it needs is there and what comes before it is over, "
    return f"{since}its {way.minutes} minutes cannot be over {by}"


def why_not_pinned(problem: Problem, budget: Budget) -> str:
    """A smallest set of pins that cannot be kept together, in words."""
    scope = scope_of(problem)
    pins = [i for i, job in enumerate(problem.jobs) if job.pinned is not None]
    for i in pins:
        # Closed by the pins of others, it is kept with them in the set.
        if not scope.is_open(i):
            alone = _with_pins(problem, [i])
            scope_alone, job = scope_of(alone), problem.jobs[i]
            if not scope_alone.is_open(i):
                why = never(alone, scope_alone, job)
                it = "" if why.startswith(_SENTENCES) else "it "
                return f"{_pin(job)} cannot be kept: {it}{why}"
    kept = list(pins)
    for i in pins:
        fewer = [other for other in kept if other != i]
        if fewer and _cannot(problem, fewer, budget):
            kept = fewer
    told = " and ".join(_pin(problem.jobs[i]) for i in kept)
    if len(kept) == 1:
        return f"{told} cannot be kept: {_ALL_IN_ALL}"
    some = _with_pins(problem, kept)
    short = _short_of(some, scope_of(some), kept)
    return f"{told} cannot be kept together: {short or _ALL_IN_ALL}"


_SENTENCES = ("its ", "once ", "in the way ")
"""What a reason with a subject of its own begins with."""
_ALL_IN_ALL = (
    "the hours, what comes before and what there is of everything do not allow it"
)


def _pin(job: Job) -> str:
    assert job.pinned is not None
    return f"{job.id!r} pinned to {job.ways[job.pinned].id!r}"


def _short_of(problem: Problem, scope: Scope, pins: list[int]) -> str:
    """What these pins, with all that must come before them, take too much of."""
    if not all(scope.is_open(i) for i in pins):
        return ""
    forced = set(pins)
    waiting = list(pins)
    while waiting:
        i = waiting.pop()
        ways = [problem.jobs[i].ways[n] for n in scope.ways[i]]
        shared = set.intersection(*({b for b, _ in way.after} for way in ways))
        new = {b for b in shared if not scope.sparers[b]} - forced
        forced |= new
        waiting += new
    for store, there_is in enumerate(problem.stores):
        wanted = sum(
            min(
                dict(problem.jobs[i].ways[n].takes).get(store, 0) for n in scope.ways[i]
            )
            for i in forced
        )
        if wanted > there_is:
            name = problem.store_ids[store]
            return (
                f"they take {wanted / 1000:g} of {name!r}, and there is only "
                f"{there_is / 1000:g}"
            )
    return ""


def _with_pins(problem: Problem, pins: list[int]) -> Problem:
    """The same with these pins only; all others may go any way."""
    jobs = tuple(
        job if i in pins else replace(job, pinned=None)
        for i, job in enumerate(problem.jobs)
    )
    return replace(problem, jobs=jobs)


def _cannot(problem: Problem, pins: list[int], budget: Budget) -> bool:
    """Whether it is proven that these cannot all be done."""
    some = _with_pins(problem, pins)
    scope = scope_of(some)
    if not all(scope.is_open(i) for i in pins):
        return True
    model = Model(some, scope)
    for i in pins:
        model.model.add(model.done[i] == 1)
    limit = min(_ALONE_S, budget.left_s)
    outcome = solver.run(model.model, limit_s=limit, effort=_EFFORT, stop_at_first=True)
    return outcome.ended is solver.Ended.IMPOSSIBLE
