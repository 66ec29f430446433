"""What a plan chooses: tasks into sessions, what comes off, how it goes on again."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from ortools.sat.python import cp_model

from fabshop.reckoning.teardown.problem import Problem

# The solver's own types name every integer of numpy; they say less than these words.
Literal = Any
Sum = Any


@dataclass(frozen=True, slots=True)
class Step:
    """One thing done to the machine; `index` is of a component or of a task."""

    do: str
    index: int
    session: int


@dataclass(frozen=True)
class Scope:
    """What is still open: the sessions a task may be in, what may come off in each."""

    sessions: int
    tasks: dict[int, tuple[int, ...]]
    places: tuple[frozenset[int], ...]


@dataclass(frozen=True)
class Under:
    """While `literal` holds, `step` lies inside the off-phase of `place`."""

    literal: Literal
    step: Step
    place: int
    at_start_only: bool


class Choice:
    """Literals for every yes or no of a plan, without any times.

    `done[t, k]`: task t is in session k; `removed[c, k]`, `refitted[c, k]`;
    `off[c, k]`: the component is off for some while of session k; `taken[t]`: the
    task is in some session. What can only be no is left out of its table.
    """

    def __init__(self, problem: Problem, scope: Scope) -> None:
        self.problem = problem
        self.scope = scope
        self.model = cp_model.CpModel()
        self.yes = self.model.new_constant(1)
        self.no = self.model.new_constant(0)
        self.sessions = range(scope.sessions)
        self.done: dict[tuple[int, int], Literal] = {}
        self.taken: dict[int, Literal] = {}
        self.removed: dict[tuple[int, int], Literal] = {}
        self.refitted: dict[tuple[int, int], Literal] = {}
        self.off: dict[tuple[int, int], Literal] = {}
        self.used: list[Literal] = []
        self.under: list[Under] = []
        self.fitters = {
            place: problem.fitters(place) for place in range(len(problem.places))
        }
        self._variables()
        for statement in (
            self._every_session_holds_a_task,
            self._a_task_comes_after_others,
            self._what_comes_off_goes_on_again,
            self._what_lies_off_goes_on_in_the_last_session,
            self._what_is_bonded_stays_on,
            self._a_task_finds_its_places_open,
            self._handling_finds_its_place_open,
        ):
            statement()

    def _variables(self) -> None:
        new = self.model.new_bool_var
        self.used = [new(f"used {k}") for k in self.sessions]
        for task, sessions in self.scope.tasks.items():
            for k in sessions:
                self.done[task, k] = new(f"task {task} in {k}")
            self.taken[task] = self._in_some_session(task)
        for k in self.sessions:
            for place in sorted(self.scope.places[k]):
                if self.problem.places[place].is_fitted:
                    self._fitted_place(place, k)
                else:
                    self._place_off_at_first(place, k)

    def _in_some_session(self, task: int) -> Literal:
        literals = [self.done[task, k] for k in self.scope.tasks[task]]
        if len(literals) < 2:
            return literals[0] if literals else self.no
        taken = self.model.new_bool_var(f"task {task}")
        self.model.add(sum(literals) == taken)
        return taken

    def _fitted_place(self, index: int, k: int) -> None:
        if self.problem.places[index].is_shut:
            return
        removed = self.model.new_bool_var(f"remove {index} in {k}")
        self.removed[index, k] = self.off[index, k] = removed
        self.refitted[index, k] = removed
        if self.fits_in(index, k):
            self.refitted[index, k] = self.model.new_bool_var(f"refit {index} in {k}")

    def _place_off_at_first(self, index: int, k: int) -> None:
        new, model = self.model.new_bool_var, self.model
        place = self.problem.places[index]
        earlier = [literal for j in range(k) for literal in self.fits_in(index, j)]
        self.off[index, k] = self.yes
        if earlier:
            is_on = new(f"on {index} before {k}")
            model.add_max_equality(is_on, earlier)
            self.off[index, k] = ~is_on
            if not place.is_shut:
                removed = self.removed[index, k] = new(f"remove {index} in {k}")
                model.add_implication(removed, is_on)
                off = self.off[index, k] = new(f"off {index} in {k}")
                model.add_bool_or(removed, ~is_on, ~off)
                model.add_implication(~off, is_on)
                model.add_implication(removed, off)
        if not place.is_shut and (place.state == "off" or (index, k) in self.removed):
            self.refitted[index, k] = new(f"refit {index} in {k}")

    def fits_in(self, place: int, k: int) -> list[Literal]:
        """The literals of the tasks that put this component on in session k."""
        return [
            self.done[task, k] for task in self.fitters[place] if (task, k) in self.done
        ]

    def _every_session_holds_a_task(self) -> None:
        for k in self.sessions:
            inside = [literal for (_, j), literal in self.done.items() if j == k]
            self.model.add_max_equality(self.used[k], [*inside, self.no])
            if k:
                self.model.add_implication(self.used[k], self.used[k - 1])
        for table in (self.removed, self.refitted):
            for (_, k), literal in table.items():
                self.model.add_implication(literal, self.used[k])

    def _a_task_comes_after_others(self) -> None:
        for (task, k), literal in self.done.items():
            for before in self.problem.jobs[task].after:
                earlier = [
                    self.done[before, j]
                    for j in self.scope.tasks.get(before, ())
                    if j <= k
                ]
                self.model.add_bool_or(*earlier, ~literal)

    def _what_comes_off_goes_on_again(self) -> None:
        for (place, k), off in self.off.items():
            refitted = self.refitted.get((place, k), self.no)
            removed = self.removed.get((place, k), self.no)
            ways = [*self.fits_in(place, k), refitted]
            if ways == [removed]:
                continue
            self.model.add_at_most_one(ways)
            self.model.add_bool_or(*ways, ~removed)
            self.model.add_implication(refitted, off)

    def _what_lies_off_goes_on_in_the_last_session(self) -> None:
        for (place, k), off in self.off.items():
            if self.problem.places[place].state != "off":
                continue
            used = self.used[k]
            followed = self.used[k + 1] if k + 1 in self.sessions else self.no
            refitted = self.refitted.get((place, k), self.no)
            removed = self.removed.get((place, k), self.no)
            ways = [*self.fits_in(place, k), refitted]
            self.model.add_bool_or(*ways, ~off, ~used, followed)
            # Before the last session only what that session itself took off.
            self.model.add_bool_or(removed, ~refitted, ~followed)

    def _what_is_bonded_stays_on(self) -> None:
        for (task, k), literal in self.done.items():
            job = self.problem.jobs[task]
            for place in job.fits if job.for_good else ():
                for later in range(k + 1, len(self.sessions)):
                    removed = self.removed.get((place, later), self.no)
                    self.model.add_implication(literal, ~removed)

    def _a_task_finds_its_places_open(self) -> None:
        for (task, k), literal in self.done.items():
            job = self.problem.jobs[task]
            step = Step("task", task, k)
            for place in job.remove:
                self._lies_within(literal, step, place, job.fits)
            for place in job.reach:
                self._reaches(literal, step, place, job.fits)
            for place in job.fits:
                off = self.off.get((place, k), self.no)
                self.model.add_implication(literal, off)
                self._reaches(literal, step, place, ())

    def _handling_finds_its_place_open(self) -> None:
        for (place, k), literal in self.removed.items():
            self._reaches(literal, Step("remove", place, k), place, ())
        for (place, k), literal in self.refitted.items():
            self._reaches(literal, Step("refit", place, k), place, ())

    def _reaches(
        self, literal: Literal, step: Step, place: int, closing: tuple[int, ...]
    ) -> None:
        """One whole route to `place` is off while the step lasts."""
        facts = self.problem.places[place]
        if facts.is_shut:
            self.model.add_bool_or(~literal)
        if len(facts.routes) == 1:
            for over in facts.routes[0]:
                self._lies_within(literal, step, over, closing)
        elif facts.routes:
            ways = [
                self.model.new_bool_var(f"{step} to {place} by {number}")
                for number in range(len(facts.routes))
            ]
            self.model.add_bool_or(*ways, ~literal)
            for way, route in zip(ways, facts.routes, strict=True):
                self.model.add_implication(way, literal)
                for over in route:
                    self._lies_within(way, step, over, closing)

    def _lies_within(
        self, literal: Literal, step: Step, place: int, closing: tuple[int, ...]
    ) -> None:
        """The step lies where `place` is off; it cannot while it closes it itself."""
        if place in closing:
            self.model.add_bool_or(~literal)
            return
        off = self.off.get((place, step.session), self.no)
        self.model.add_implication(literal, off)
        own = step.do == "task" and place in self.problem.jobs[step.index].fits
        self.under.append(Under(literal, step, place, at_start_only=own))

    def required(self) -> Sum:
        """How many required tasks are done."""
        jobs = self.problem.jobs
        return sum(x for t, x in self.taken.items() if jobs[t].required)

    def points(self) -> Sum:
        """The points of all tasks done."""
        jobs = self.problem.jobs
        return sum(x * jobs[t].points for t, x in self.taken.items())

    def others(self) -> Sum:
        """How many tasks that are not required are done."""
        jobs = self.problem.jobs
        return sum(x for t, x in self.taken.items() if not jobs[t].required)

    def handling(self, session: int | None = None) -> Sum:
        """Set-up, off and on minutes of one session, or of all."""
        places = self.problem.places
        wanted = self.sessions if session is None else (session,)
        off = [x * places[c].off for (c, k), x in self.removed.items() if k in wanted]
        on = [x * places[c].on for (c, k), x in self.refitted.items() if k in wanted]
        return sum([*(self.problem.setup * self.used[k] for k in wanted), *off, *on])

    def work(self, session: int) -> Sum:
        """Task minutes of one session."""
        jobs = self.problem.jobs
        return sum(
            x * jobs[t].minutes for (t, k), x in self.done.items() if k == session
        )
