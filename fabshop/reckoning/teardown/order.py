"""The full model: every step of every session on the axis of worked minutes."""

from __future__ import annotations

from typing import Any

from ortools.sat.python import cp_model

from fabshop.reckoning.solver import Outcome
from fabshop.reckoning.teardown.choice import Choice, Literal, Step, Sum, Under
from fabshop.reckoning.teardown.problem import Job, start_spans
from fabshop.reckoning.teardown.timing import Plan, Timing, step_minutes, ticks_of


class Order:
    """A choice, and the start of each of its steps.

    Time is counted in `ticks`: a step of no minutes takes one tick, and a minute has
    more ticks than there are such steps, so that they too have an order among
    themselves while no minute is lost to them.
    """

    def __init__(self, choice: Choice) -> None:
        self.choice = choice
        self.problem = problem = choice.problem
        self.model = self.choice.model
        self.present: dict[Step, Literal] = {
            **{Step("remove", *key): x for key, x in self.choice.removed.items()},
            **{Step("task", *key): x for key, x in self.choice.done.items()},
            **{Step("refit", *key): x for key, x in self.choice.refitted.items()},
        }
        instant = sum(not step_minutes(problem, step) for step in self.present)
        self.ticks = instant + 1
        self.horizon = problem.axis.length * self.ticks + self.ticks - 1
        self.start: dict[Step, cp_model.IntVar] = {}
        self.begin: list[cp_model.IntVar] = []
        self.finish: list[cp_model.IntVar] = []
        self.cured: dict[int, cp_model.IntVar] = {}
        self._variables()
        for statement in (
            self._steps_lie_inside_their_session,
            self._sessions_follow_one_another,
            self._nothing_overlaps,
            self._sessions_have_room_for_their_steps,
            self._work_waits_for_what_it_needs,
            self._a_place_is_closed_after_it_was_opened,
            self._steps_lie_where_their_places_are_open,
            self._cures_run_on_the_clock,
            self._work_waits_for_what_comes_before,
            self._places_stay_open_until_cured,
            self._closed_work_comes_when_all_is_on,
        ):
            statement()

    def length(self, step: Step) -> int:
        """Ticks that a step takes."""
        return step_minutes(self.problem, step) * self.ticks or 1

    def end(self, step: Step) -> Sum:
        """The tick at which a step is over."""
        return self.start[step] + self.length(step)

    def _at_minute(self, position: int) -> int:
        return position * self.ticks

    def _by_minute(self, position: int) -> int:
        return position * self.ticks + self.ticks - 1

    def _variables(self) -> None:
        new = self.model.new_int_var
        for k in self.choice.sessions:
            self.begin.append(new(0, self.horizon, f"begin {k}"))
            self.finish.append(new(0, self.horizon, f"finish {k}"))
        shared: dict[int, cp_model.IntVar] = {}
        for step in self.present:
            if step.do != "task":
                self.start[step] = new(0, self.horizon, f"{step}")
                continue
            if step.index not in shared:
                domain = self._starts_of(self.problem.jobs[step.index])
                shared[step.index] = self.model.new_int_var_from_domain(
                    domain, f"task {step.index} starts"
                )
            self.start[step] = shared[step.index]

    def _starts_of(self, job: Job) -> cp_model.Domain:
        """Where a task may start; anywhere where it cannot be done at all."""
        spans = start_spans(self.problem.axis, job)
        return cp_model.Domain.from_intervals(
            [[self._at_minute(low), self._by_minute(high)] for low, high in spans]
            or [[0, self.horizon]]
        )

    def _steps_lie_inside_their_session(self) -> None:
        setup = self.problem.setup * self.ticks
        for step, literal in self.present.items():
            k = step.session
            self._when(literal, self.start[step] >= self.begin[k] + setup)
            self._when(literal, self.end(step) <= self.finish[k])

    def _sessions_follow_one_another(self) -> None:
        for k in self.choice.sessions:
            self.model.add(self.finish[k] >= self.begin[k])
            if k:
                self.model.add(self.begin[k] >= self.finish[k - 1])

    def _nothing_overlaps(self) -> None:
        for k in self.choice.sessions:
            self.model.add_no_overlap(
                self.model.new_optional_fixed_size_interval_var(
                    self.start[step], self.length(step), literal, f"{step} span"
                )
                for step, literal in self.present.items()
                if step.session == k
            )

    def _sessions_have_room_for_their_steps(self) -> None:
        for k in self.choice.sessions:
            lengths = sum(
                literal * self.length(step)
                for step, literal in self.present.items()
                if step.session == k
            )
            setup = self.problem.setup * self.ticks * self.choice.used[k]
            self.model.add(lengths + setup <= self.finish[k] - self.begin[k])

    def _work_waits_for_what_it_needs(self) -> None:
        for step, literal in self.present.items():
            if step.do != "task":
                continue
            job = self.problem.jobs[step.index]
            ready = self._at_minute(job.earliest)
            if not self.problem.wait_each:
                self._when(literal, self.begin[step.session] >= ready)

    def _a_place_is_closed_after_it_was_opened(self) -> None:
        for (place, k), literal in self.choice.removed.items():
            opened = self.end(Step("remove", place, k))
            if (place, k) in self.choice.refitted:
                refit = Step("refit", place, k)
                both = literal, self.present[refit]
                self._when(both, self.start[refit] >= opened)
            for task in self._fitters(place, k):
                both = literal, self.present[task]
                self._when(both, self.start[task] >= opened)

    def _fitters(self, place: int, session: int) -> list[Step]:
        return [
            Step("task", task, session)
            for task in self.choice.fitters[place]
            if (task, session) in self.choice.done
        ]

    def _steps_lie_where_their_places_are_open(self) -> None:
        for under in self.choice.under:
            self._lies_within_off_phase(under)

    def _lies_within_off_phase(self, under: Under) -> None:
        step, place, k = under.step, under.place, under.step.session
        removed = self.choice.removed.get((place, k))
        if removed is not None:
            opened = self.end(Step("remove", place, k))
            self._when((under.literal, removed), self.start[step] >= opened)
        refitted = self.choice.refitted.get((place, k))
        if refitted is not None:
            refit = Step("refit", place, k)
            self._when((under.literal, refitted), self.end(step) <= self.start[refit])
        for task in self._fitters(place, k):
            if not (under.at_start_only and task == step):
                both = under.literal, self.present[task]
                self._when(both, self.end(step) <= self.start[task])

    def _cures_run_on_the_clock(self) -> None:
        waited_for = {before for job in self.problem.jobs for before in job.after}
        for task, literal in self.choice.taken.items():
            job = self.problem.jobs[task]
            if (job.cure and task in waited_for) or job.keeps_open:
                self._cure(task, literal)

    def _cure(self, task: int, literal: Literal) -> None:
        job = self.problem.jobs[task]
        if not self.choice.scope.tasks[task]:
            return
        step = Step("task", task, self.choice.scope.tasks[task][0])
        end = self.end(step)
        if not job.cure:
            cured = self.model.new_int_var(0, self.horizon + 1, f"task {task} over")
            self._when(literal, cured >= end)
            self.cured[task] = cured
            return
        top = self._at_minute(self.problem.axis.length + 1)
        cured = self.cured[task] = self.model.new_int_var(0, top, f"task {task} cured")
        first_end = job.earliest + job.minutes
        chosen = []
        for piece in self.problem.axis.cure_pieces(job.cure, job.last_end):
            if piece.upto < first_end:
                continue
            here = self.model.new_bool_var(f"task {task} ends by {piece.upto}")
            chosen.append(here)
            self._when(here, end >= self._at_minute(piece.after + 1))
            self._when(here, end <= self._by_minute(piece.upto))
            at: Sum = self._at_minute(piece.at)
            if piece.moves:
                at = at + end - self._at_minute(piece.after)
            self._when(here, cured >= at)
        self.model.add(sum(chosen) == 1).only_enforce_if(literal)

    def _work_waits_for_what_comes_before(self) -> None:
        for task, literal in self.choice.taken.items():
            for before in self.problem.jobs[task].after:
                if not (self.choice.scope.tasks[task] and before in self.choice.taken):
                    continue
                step = Step("task", task, self.choice.scope.tasks[task][0])
                for k in self.choice.scope.tasks[before][:1]:
                    earlier = Step("task", before, k)
                    self._when(literal, self.start[step] >= self.end(earlier))
                if before in self.cured:
                    self._when(literal, self.start[step] >= self.cured[before])

    def _places_stay_open_until_cured(self) -> None:
        for task, k in self.choice.done:
            for place in self.problem.jobs[task].keeps_open:
                for later in range(k, self.choice.scope.sessions):
                    for step in (
                        Step("refit", place, later),
                        *self._fitters(place, later),
                    ):
                        if step in self.present and step != Step("task", task, later):
                            both = self.choice.done[task, k], self.present[step]
                            self._when(both, self.start[step] >= self.cured[task])

    def _closed_work_comes_when_all_is_on(self) -> None:
        for k in self.choice.sessions:
            closed = [
                task
                for task in self.choice.scope.tasks
                if (task, k) in self.choice.done and self.problem.jobs[task].closed
            ]
            if not closed:
                continue
            all_on = self.model.new_int_var(0, self.horizon, f"all on in {k}")
            for (place, j), literal in self.choice.refitted.items():
                if j == k:
                    self._when(literal, all_on >= self.end(Step("refit", place, k)))
            for task in closed:
                step, literal = Step("task", task, k), self.choice.done[task, k]
                self._when(literal, self.start[step] >= all_on)
                for other in self.choice.scope.tasks:
                    fitter = Step("task", other, k)
                    if (
                        other != task
                        and fitter in self.present
                        and self.problem.jobs[other].fits
                    ):
                        both = literal, self.present[fitter]
                        self._when(both, self.start[step] >= self.end(fitter))

    def _when(
        self,
        literals: Literal | tuple[Literal, ...],
        statement: Any,
    ) -> None:
        if isinstance(literals, tuple):
            self.model.add(statement).only_enforce_if(*literals)
        else:
            self.model.add(statement).only_enforce_if(literals)

    def minute(self, tick: cp_model.IntVar, name: str) -> cp_model.IntVar:
        """The worked minute that a tick lies in, as a variable."""
        minute = self.model.new_int_var(0, self.problem.axis.length, name)
        self.model.add(self.ticks * minute <= tick)
        self.model.add(tick <= self.ticks * minute + self.ticks - 1)
        return minute

    def hint(self, plan: Plan) -> dict[int, int]:
        """A plan as values to begin from: what is done, when, and what is not."""
        times = Timing(self.problem, plan).earliest()
        if times is None:
            return {}
        starts = ticks_of(self.problem, plan, times, self.ticks)
        hint = {}
        for step, literal in self.present.items():
            if literal.index >= 0:
                hint[literal.index] = int(step in starts)
            if step in starts:
                hint[self.start[step].index] = starts[step]
        return hint

    def plan(self, outcome: Outcome) -> Plan:
        """The steps of a solution in the order of their starts."""
        sessions: list[tuple[Step, ...]] = []
        for k in self.choice.sessions:
            steps = [
                step
                for step, literal in self.present.items()
                if step.session == k and outcome.holds(literal)
            ]
            if steps:
                steps.sort(key=lambda step: outcome[self.start[step]])
                sessions.append(tuple(steps))
        return tuple(sessions)
