"""Why a task is left out, in plain words and true."""

from __future__ import annotations

from fabshop.reckoning import solver
from fabshop.reckoning.access import AccessLoop, Cover, removals_to_reach
from fabshop.reckoning.questions.strict import moment_of
from fabshop.reckoning.teardown.best import Best, Budget
from fabshop.reckoning.teardown.choice import Choice, Scope
from fabshop.reckoning.teardown.order import Order
from fabshop.reckoning.teardown.problem import Job, Problem, start_spans
from fabshop.reckoning.teardown.scope import whole_scope

_EFFORT = 1.0


def left_out(
    problem: Problem, best: Best, sessions: int, budget: Budget
) -> list[dict[str, str]]:
    """Each task that the plan does not do, with the reason."""
    return _Reasons(problem, best, sessions, budget).all()


class _Reasons:
    def __init__(
        self, problem: Problem, best: Best, sessions: int, budget: Budget
    ) -> None:
        self.problem = problem
        self.budget = budget
        self.is_proven = best.gap is None or best.gap.name in _AFTER_THE_TASKS
        self.done = {s.index for steps in best.plan for s in steps if s.do == "task"}
        self.scope = whole_scope(problem, sessions)
        self.covers = {
            place.id: Cover(
                place.id,
                place.off,
                tuple(
                    tuple(problem.places[over].id for over in route)
                    for route in place.every_route
                ),
                not place.is_fitted,
            )
            for place in problem.places
        }

    def all(self) -> list[dict[str, str]]:
        return [
            {"task": job.id, "why": self._why(task, job)}
            for task, job in enumerate(self.problem.jobs)
            if task not in self.done
        ]

    def _why(self, task: int, job: Job) -> str:
        jobs = self.problem.jobs
        missed = [jobs[b].id for b in job.after if b not in self.done]
        return (
            self._never_in_time(job)
            or self._never_reached(job)
            or self._against_itself(job)
            or (f"comes after {missed[0]!r}, which is left out" if missed else "")
            or self._costs(job)
            or self._among_the_others(task, job)
        )

    def _never_in_time(self, job: Job) -> str:
        axis = self.problem.axis
        if start_spans(axis, job):
            return ""
        if not axis.length:
            return "there are no hands-on hours before the deadline"
        deadline = moment_of(axis.deadline)
        if job.minutes > axis.length:
            return (
                f"takes {job.minutes} minutes, and only {axis.length} worked minutes "
                f"lie before the deadline {deadline}"
            )
        if job.minutes > job.last_end:
            return f"its cure of {job.cure} minutes cannot be over by {deadline}"
        longest = max(end - start for start, end in axis.windows)
        if job.unbroken and job.minutes > longest:
            return (
                f"may not be suspended, and its {job.minutes} minutes fit no window; "
                f"the longest has {longest}"
            )
        cure = f" and its cure of {job.cure}" if job.cure else ""
        pauses = ", unbroken," if job.unbroken else ""
        since = "once what it needs is there, " if job.earliest else ""
        return (
            f"{since}its {job.minutes} minutes{pauses}{cure} "
            f"cannot be over by {deadline}"
        )

    def _never_reached(self, job: Job) -> str:
        names = [self.problem.places[place].id for place in job.reach + job.fits]
        off = [
            self.problem.places[place].id
            for place in job.remove + job.fits
            if self.problem.places[place].is_fitted
        ]
        for name in (*names, *off):
            if loop := self._loop_over(name, name in off):
                return f"{name!r} can never be reached: {loop}"
        return ""

    def _loop_over(self, name: str, must_be_off: bool) -> AccessLoop | None:
        goals = ([], [name]) if must_be_off else ([name], [])
        return removals_to_reach(self.covers, *goals).loop

    def _against_itself(self, job: Job) -> str:
        places = self.problem.places
        for place in job.remove:
            if place in job.fits:
                name = places[place].id
                return f"needs {name!r} off while it is done, and puts it on itself"
            if job.closed and places[place].is_fitted:
                name = places[place].id
                return f"is done when all is on, and yet needs {name!r} off"
        return ""

    @staticmethod
    def _costs(job: Job) -> str:
        if job.required or job.points >= 0:
            return ""
        return f"is not required and costs points ({job.points})"

    def _among_the_others(self, task: int, job: Job) -> str:
        outcome = self._alone(task)
        if outcome is solver.Ended.IMPOSSIBLE:
            return (
                "cannot be done by the deadline whatever else is left out: the hours, "
                "the moments its parts come, cures and what must be off do not allow it"
            )
        if not self.is_proven:
            return "no plan with it was found in the time that does as well; not proven"
        if outcome is solver.Ended.NOTHING:
            return "the best plan is one without it"
        return (
            "could be done, but not together with the tasks that are planned, "
            "which count for more or as much"
        )

    def _alone(self, task: int) -> solver.Ended:
        """Whether any plan at all does this task, others only where they help it."""
        jobs = self.problem.jobs
        wanted = {task}
        while more := {b for t in wanted for b in jobs[t].after} - wanted:
            wanted |= more
        tasks = {
            other: sessions if other in wanted or jobs[other].fits else ()
            for other, sessions in self.scope.tasks.items()
        }
        if self.budget.left_s <= 0:
            return solver.Ended.NOTHING
        scope = Scope(self.scope.sessions, tasks, self.scope.places)
        order = Order(Choice(self.problem, scope))
        order.model.add(order.choice.taken[task] == 1)
        limit = min(0.3, self.budget.left_s)
        return solver.run(order.model, limit_s=limit, effort=_EFFORT).ended


_AFTER_THE_TASKS = ("handling_minutes", "latest_start", "finish")
