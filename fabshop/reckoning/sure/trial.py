"""One plan and all that is drawn for it."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import msgspec
import numpy as np

from fabshop.reckoning.questions.schedule import schedule_question
from fabshop.reckoning.questions.strict import minute_of, refuse
from fabshop.reckoning.schedule.problem import Problem, problem_of
from fabshop.reckoning.sure.asked import Asked, Plan
from fabshop.reckoning.sure.hours import Hours, Whole
from fabshop.reckoning.sure.spread import Triple, arrival_draws, work_draws
from fabshop.reckoning.sure.walk import Order, Walk, Walked

MAX_UNITS = 1_000


@dataclass(frozen=True)
class Doubt:
    """One thing that is drawn: a day, or a part of the minutes planned."""

    kind: str
    id: str
    activity: str | None
    activities: tuple[int, ...]
    triple: Triple
    """Clock minutes from the origin, or parts of the planned minutes."""

    @property
    def name(self) -> str:
        """Its own stream of draws."""
        return f"{self.kind} {self.id} {self.activity or ''}"


class Trial:
    """A plan to be walked through, with the draws of every doubt that touches it."""

    def __init__(self, plan: Plan, asked: Asked) -> None:
        self.plan, self.asked = plan, asked
        question = schedule_question(plan.question)
        whole = problem_of(question)
        self.deadline = whole.horizon if whole.has_deadline else None
        self.dues = [
            None if one.due is None else minute_of(one.due) - whole.origin
            for one in question.activities
        ]
        # Late is told, not forbidden: the walk goes on past every limit.
        self.problem: Problem = problem_of(
            msgspec.structs.replace(question, deadline=None)
        )
        self.places = {job.id: i for i, job in enumerate(whole.jobs)}
        self.order = self._order()
        self.done = {i for i, _ in self.order}
        self.doubts = (*self._arrivals(), *self._work())
        self.draws = {doubt: self._drawn(doubt) for doubt in self.doubts}

    @cached_property
    def hours(self) -> Hours:
        """The hours that costs and the band are counted in."""
        resource = self.resource
        if resource is None:
            return Hours(None)
        return Hours(self.problem.windows[self.problem.resource_axes[resource]])

    @cached_property
    def resource(self) -> int | None:
        """Whose hours those are."""
        name = self.asked.resource
        if name is None:
            return None
        if name not in self.problem.resource_ids:
            refuse("resource", f"plan {self.plan.id!r} has no resource {name!r}")
        return self.problem.resource_ids.index(name)

    def walk(self, fixed: Doubt | None = None, runs: int | None = None) -> Walked:
        """All runs, or the first few; `fixed` turns out as likely in each."""
        runs = runs or self.asked.runs
        ready: dict[int, Whole] = {}
        minutes: dict[int, Whole] = {}
        for i, n in self.order:
            planned = self.problem.jobs[i].ways[n].minutes
            minutes[i] = np.full(runs, planned, dtype=np.int64)
        for doubt in self.doubts:
            drawn = self.draws[doubt][:runs]
            if doubt == fixed:
                drawn = np.full(runs, doubt.triple.likely)
            for i in doubt.activities:
                if doubt.kind == "arrival":
                    day = np.rint(drawn).astype(np.int64)
                    ready[i] = np.maximum(ready[i], day) if i in ready else day
                elif minutes[i][0]:
                    exact = np.rint(minutes[i] * drawn).astype(np.int64)
                    minutes[i] = np.maximum(1, exact)
        return Walk(self.problem, self.order, runs).through(minutes, ready)

    def end(self, walked: Walked) -> Whole:
        """The clock when the last of it is over, in each run."""
        finishes = list(walked.finishes.values())
        if not finishes:
            return np.zeros(self.asked.runs, dtype=np.int64)
        found: Whole = np.maximum.reduce(finishes)
        return found

    def limit_of(self, i: int) -> int | None:
        """By when an activity must be over; None without a limit."""
        limits = (self.dues[i], self.deadline)
        return min((limit for limit in limits if limit is not None), default=None)

    def _order(self) -> Order:
        rows = []
        for index, row in enumerate(self.plan.answer.get("activities", [])):
            path = f"plans {self.plan.id!r} answer.activities[{index}]"
            if row.get("id") not in self.places:
                refuse(path, f"no activity {row.get('id')!r} in the question")
            i = self.places[row["id"]]
            names = [way.id for way in self.problem.jobs[i].ways]
            if row.get("way") not in names:
                refuse(path, f"{row['id']!r} has no way {row.get('way')!r}")
            start, finish = (minute_of(row.get(f, ""), path) for f in _SPAN)
            rows.append((start, finish, i, names.index(row["way"])))
        self._check_units(rows)
        return tuple((i, n) for _, _, i, n in sorted(rows, key=lambda row: row[:2]))

    def _check_units(self, rows: list[tuple[int, int, int, int]]) -> None:
        for _, _, i, n in rows:
            for resource, units in self.problem.jobs[i].ways[n].uses:
                there_is = self.problem.capacities[resource]
                if units > there_is or there_is > MAX_UNITS:
                    refuse(
                        f"plans {self.plan.id!r}",
                        f"uses {units} of {self.problem.resource_ids[resource]!r}; "
                        f"there is {there_is}, and at most {MAX_UNITS} can be "
                        "walked through",
                    )

    def _arrivals(self) -> list[Doubt]:
        return [
            Doubt(
                "arrival",
                one.id,
                None,
                touched,
                Triple(
                    *(
                        minute_of(day) - self.problem.origin
                        for day in (one.early, one.likely, one.late)
                    )
                ),
            )
            for one in self.asked.arrivals
            if (touched := self._touched(one.activities))
        ]

    def _work(self) -> list[Doubt]:
        found = []
        for one in self.asked.work:
            touched = self._touched(one.activities)
            triple = Triple(one.early, one.likely, one.late)
            if one.together and touched:
                found.append(Doubt("work", one.id, None, touched, triple))
            elif not one.together:
                found += [
                    Doubt("work", one.id, self.problem.jobs[i].id, (i,), triple)
                    for i in touched
                ]
        return found

    def _touched(self, names: tuple[str, ...]) -> tuple[int, ...]:
        places = (self.places.get(name) for name in names)
        return tuple(sorted({i for i in places if i is not None and i in self.done}))

    def _drawn(self, doubt: Doubt) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
        draws = arrival_draws if doubt.kind == "arrival" else work_draws
        return draws(doubt.triple, self.asked.runs, self.asked.seed, doubt.name)


_SPAN = ("start", "finish")
