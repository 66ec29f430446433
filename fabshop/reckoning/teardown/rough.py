"""A looser model that proves quickly: tasks have times, what is handled has not.

Everything it says is true of every plan, so what it cannot reach, no plan can. What
it does reach may still have no order; the full model (`order`) decides that.
"""

from __future__ import annotations

from typing import Any

from ortools.sat.python import cp_model

from fabshop.reckoning.teardown.choice import Choice, Literal, Step, Sum
from fabshop.reckoning.teardown.problem import Problem, start_spans
from fabshop.reckoning.teardown.timing import Plan, Timing


class Rough:
    """A choice, and the worked minute at which each of its tasks starts."""

    def __init__(self, choice: Choice) -> None:
        self.choice = choice
        self.problem = choice.problem
        self.model = choice.model
        self.covers = covers_of(self.problem)
        length = self.problem.axis.length
        new = self.model.new_int_var
        self.begin = [new(0, length, f"begin {k}") for k in choice.sessions]
        self.finish = [new(0, length, f"finish {k}") for k in choice.sessions]
        self.start = {
            task: self._start(task)
            for task, sessions in choice.scope.tasks.items()
            if sessions
        }
        self.cured: dict[int, cp_model.IntVar] = {}
        for statement in (
            self._sessions_have_room_and_follow_one_another,
            self._handling_lies_round_each_task,
            self._work_waits_for_what_it_needs,
            self._cures_run_on_the_clock,
            self._work_waits_for_what_comes_before,
            self._a_place_is_fitted_after_the_work_behind_it,
            self._places_stay_open_until_cured,
            self._closed_work_comes_when_all_is_on,
        ):
            statement()

    def _start(self, task: int) -> cp_model.IntVar:
        spans = start_spans(self.problem.axis, self.problem.jobs[task])
        domain = cp_model.Domain.from_intervals([list(span) for span in spans])
        return self.model.new_int_var_from_domain(domain, f"task {task} starts")

    def hint(self, plan: Plan) -> dict[int, int]:
        """A plan as values to begin from."""
        steps = {step for session in plan for step in session}
        tables = (
            ("task", self.choice.done),
            ("remove", self.choice.removed),
            ("refit", self.choice.refitted),
        )
        hint = {
            literal.index: int(Step(do, *key) in steps)
            for do, table in tables
            for key, literal in table.items()
            if literal.index >= 0
        }
        times = Timing(self.problem, plan).earliest()
        for session, starts in zip(plan, times.starts if times else (), strict=False):
            for step, start in zip(session, starts, strict=True):
                if step.do == "task":
                    hint[self.start[step.index].index] = start
        return hint

    def end(self, task: int) -> Sum:
        """The worked minute at which a task is over."""
        return self.start[task] + self.problem.jobs[task].minutes

    def _sessions_have_room_and_follow_one_another(self) -> None:
        for k in self.choice.sessions:
            minutes = self.choice.handling(k) + self.choice.work(k)
            self.model.add(minutes <= self.finish[k] - self.begin[k])
            if k:
                self.model.add(self.begin[k] >= self.finish[k - 1])

    def _handling_lies_round_each_task(self) -> None:
        places = self.problem.places
        for (task, k), literal in self.choice.done.items():
            over = self._over_task(task)
            head = self.problem.setup + sum(places[c].off for c in over)
            start, end = self.start[task], self.end(task)
            self._when(start >= self.begin[k] + head, literal)
            self._when(end + self._back_on(over) <= self.finish[k], literal)

    def _over_task(self, task: int) -> frozenset[int]:
        """What must come off before the task, whichever way, and is on at first."""
        over = self._behind(task) | set(self.problem.jobs[task].fits)
        return frozenset(c for c in over if self.problem.places[c].is_fitted)

    def _behind(self, task: int) -> frozenset[int]:
        """What must be off at some time up to the task's start, whichever way."""
        job = self.problem.jobs[task]
        reached = job.reach + job.fits
        return frozenset(job.remove).union(
            *(self.covers[place] for place in reached),
            *(_beyond(self.problem, self.covers, place) for place in job.remove),
        )

    def _back_on(self, over: frozenset[int]) -> int:
        """The least minutes to put these on again: what a task fits costs none here."""
        return sum(
            self.problem.places[c].on for c in over if not self.choice.fitters[c]
        )

    def _work_waits_for_what_it_needs(self) -> None:
        jobs, each = self.problem.jobs, self.problem.wait_each
        for (task, k), literal in self.choice.done.items():
            if jobs[task].earliest and not each:
                self._when(self.begin[k] >= jobs[task].earliest, literal)
        for ready in sorted({job.earliest for job in jobs if job.earliest}):
            late = sum(
                literal * jobs[task].minutes
                for task, literal in self.choice.taken.items()
                if jobs[task].earliest >= ready
            )
            room = max(0, self.problem.axis.length - ready)
            self.model.add(late <= room)

    def _cures_run_on_the_clock(self) -> None:
        jobs = self.problem.jobs
        waited_for = {before for job in jobs for before in job.after}
        for task in self.start:
            job = jobs[task]
            if job.cure and (task in waited_for or job.keeps_open):
                self._cure(task)

    def _cure(self, task: int) -> None:
        job, axis = self.problem.jobs[task], self.problem.axis
        literal = self.choice.taken[task]
        cured = self.model.new_int_var(0, axis.length + 1, f"task {task} cured")
        self.cured[task] = cured
        chosen = []
        for piece in axis.cure_pieces(job.cure, job.last_end):
            if piece.upto < job.earliest + job.minutes:
                continue
            here = self.model.new_bool_var(f"task {task} ends by {piece.upto}")
            chosen.append(here)
            self._when(self.end(task) >= piece.after + 1, here)
            self._when(self.end(task) <= piece.upto, here)
            moved = self.end(task) - piece.after if piece.moves else 0
            self._when(cured >= piece.at + moved, here)
        self.model.add(sum(chosen) == 1).only_enforce_if(literal)

    def _over_by(self, task: int) -> Sum:
        return self.cured[task] if task in self.cured else self.end(task)

    def _work_waits_for_what_comes_before(self) -> None:
        for task in self.start:
            for before in self.problem.jobs[task].after:
                if before in self.start:
                    self._when(
                        self.start[task] >= self._over_by(before),
                        self.choice.taken[task],
                    )

    def _a_place_is_fitted_after_the_work_behind_it(self) -> None:
        for (task, k), literal in self.choice.done.items():
            job = self.problem.jobs[task]
            behind = self._behind(task)
            for place in sorted(behind - set(job.fits)):
                for fitter in self.choice.fitters[place]:
                    other = self.choice.done.get((fitter, k))
                    if other is not None and fitter != task:
                        # What lay between them is put on before the place is.
                        between = frozenset(
                            c
                            for c in behind
                            if place in self.covers[c]
                            and self.problem.places[c].is_fitted
                        )
                        on = self._back_on(between)
                        statement = self.end(task) + on <= self.start[fitter]
                        self._when(statement, literal, other)

    def _places_stay_open_until_cured(self) -> None:
        for (task, k), literal in self.choice.done.items():
            for place in self.problem.jobs[task].keeps_open:
                off = self.choice.off.get((place, k))
                own = place in self.problem.jobs[task].fits
                fitted = self.problem.places[place].is_fitted
                if off is not None and fitted and not own:
                    on = self._back_on(self.covers[place] | {place})
                    statement = self._over_by(task) + on <= self.finish[k]
                    self._when(statement, literal, off)
                    self._over_it_waits_too(task, place, k, off)
                for later in range(k, self.choice.scope.sessions):
                    for fitter in self.choice.fitters[place]:
                        other = self.choice.done.get((fitter, later))
                        if other is not None and fitter != task:
                            statement = self.start[fitter] >= self._over_by(task)
                            self._when(statement, literal, other)

    def _over_it_waits_too(self, task: int, place: int, k: int, off: Literal) -> None:
        """What covers a place goes on after it, and so after what keeps it open."""
        for over in self.covers[place]:
            for fitter in self.choice.fitters[over]:
                other = self.choice.done.get((fitter, k))
                if other is not None and fitter != task:
                    between = frozenset(
                        c
                        for c in self.covers[place] | {place}
                        if over in self.covers[c] and self.problem.places[c].is_fitted
                    )
                    statement = (
                        self._over_by(task) + self._back_on(between)
                        <= self.start[fitter]
                    )
                    self._when(statement, self.choice.done[task, k], off, other)

    def _closed_work_comes_when_all_is_on(self) -> None:
        jobs = self.problem.jobs
        for (task, k), literal in self.choice.done.items():
            if not jobs[task].closed:
                continue
            if self._over_task(task) - set(jobs[task].fits):
                self.model.add_bool_or(~literal)
            handled = self.choice.handling(k)
            self._when(self.start[task] >= self.begin[k] + handled, literal)
            for (other, j), present in self.choice.done.items():
                if j != k or other == task:
                    continue
                over = self._over_task(other)
                if over - set(jobs[task].fits) or jobs[other].fits:
                    on = self._back_on(over - set(jobs[task].fits))
                    statement = self.end(other) + on <= self.start[task]
                    self._when(statement, literal, present)

    def _when(self, statement: Any, *literals: Literal) -> None:
        self.model.add(statement).only_enforce_if(*literals)


def covers_of(problem: Problem) -> list[frozenset[int]]:
    """For each component, what must be off to reach it by whichever route."""
    covers: list[frozenset[int]] = [frozenset()] * len(problem.places)
    grew = True
    while grew:
        grew = False
        for index, place in enumerate(problem.places):
            by_route = [
                frozenset(route).union(*(_beyond(problem, covers, c) for c in route))
                for route in place.routes
            ]
            common = frozenset.intersection(*by_route) if by_route else frozenset()
            if common != covers[index]:
                covers[index] = common
                grew = True
    return covers


def _beyond(
    problem: Problem, covers: list[frozenset[int]], place: int
) -> frozenset[int]:
    """What must be off to take this one off; what lies off needs nothing for that."""
    return covers[place] if problem.places[place].is_fitted else frozenset()
