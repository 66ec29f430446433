"""The schedule as a CP-SAT model: every kind of work on its own worked minutes."""

from __future__ import annotations

from typing import Any

from ortools.sat.python import cp_model

from fabshop.reckoning.schedule.link import Links
from fabshop.reckoning.schedule.place import Plan, in_order, placed_in_order
from fabshop.reckoning.schedule.problem import CLOCK, Problem
from fabshop.reckoning.schedule.scope import Scope
from fabshop.reckoning.solver import Outcome

Span = tuple[Any, Any]
"""Where work starts and ends on some axis, as variables or sums of them."""


class Model:
    """Each activity lives on the axis that all its ways share, or on the clock.

    Axes are linked only where something asks for it: a lag, another calendar, a
    machine without hours.
    """

    def __init__(
        self, problem: Problem, scope: Scope, *, is_rough: bool = False
    ) -> None:
        self.problem, self.scope = problem, scope
        self.model = cp_model.CpModel()
        self.open = [i for i in range(len(problem.jobs)) if scope.is_open(i)]
        self.links = Links(problem, self.model, self._limits)
        self._variables()
        self._one_way_of_each_that_is_done()
        self._nothing_done_without_what_it_needs()
        self._no_more_taken_than_is_in_store()
        self._no_more_work_than_there_are_hours()
        self._aims()
        if is_rough:
            return
        self._work_starts_and_ends_along_its_hours()
        self._nothing_before_what_it_comes_after()
        self._no_loop_among_the_ways_taken()
        self._no_more_at_once_than_there_is()
        self._nothing_is_over_after_the_finish()

    # The variables

    def _variables(self) -> None:
        model, jobs = self.model, self.problem.jobs
        self.done = {i: model.new_bool_var(f"done {jobs[i].id}") for i in self.open}
        self.taken = {
            (i, n): self.done[i]
            if len(self.scope.ways[i]) == 1
            else model.new_bool_var(f"{jobs[i].id} by {jobs[i].ways[n].id}")
            for i in self.open
            for n in self.scope.ways[i]
        }
        self.frame: dict[int, int] = {}
        self.start: dict[int, Any] = {}
        self.end: dict[int, Any] = {}
        self.span: dict[tuple[int, int], Span] = {}
        for i in self.open:
            axes = {jobs[i].ways[n].axis for n in self.scope.ways[i]}
            self.frame[i] = axes.pop() if len(axes) == 1 else CLOCK
            self._frame_of(i)

    def _frame_of(self, i: int) -> None:
        job, ways = self.problem.jobs[i], self.scope.ways[i]
        low, high = self._limits(i, self.frame[i])
        self.start[i] = self.model.new_int_var(low, high, f"start {job.id}")
        minutes = {job.ways[n].minutes for n in ways}
        if len(minutes) == 1 and len({job.ways[n].axis for n in ways}) == 1:
            self.end[i] = self.start[i] + minutes.pop()
        else:
            self.end[i] = self.model.new_int_var(low, high, f"end {job.id}")
        for n in ways:
            axis = job.ways[n].axis
            if axis == self.frame[i]:
                self.span[i, n] = (self.start[i], self.end[i])
                continue
            low_here, high_here = self._limits(i, axis)
            start = self.model.new_int_var(low_here, high_here, f"{job.id} {n}")
            self.span[i, n] = (start, start + job.ways[n].minutes)

    def _limits(self, i: int, axis: int) -> tuple[int, int]:
        along = self.problem.axes[axis]
        low = along.position_from(self.scope.heads[i])
        high = along.last_position_by(self.problem.jobs[i].due)
        return (low, high) if low <= high else (0, along.length)

    # The rules

    def _one_way_of_each_that_is_done(self) -> None:
        for i in self.open:
            if len(self.scope.ways[i]) > 1:
                taken = [self.taken[i, n] for n in self.scope.ways[i]]
                self.model.add(sum(taken) == self.done[i])

    def _work_starts_and_ends_along_its_hours(self) -> None:
        model, problem = self.model, self.problem
        for i in self.open:
            job = problem.jobs[i]
            for n in self.scope.ways[i]:
                way, taken = job.ways[n], self.taken[i, n]
                start, end = self.span[i, n]
                along = problem.axes[way.axis]
                model.add(end == start + way.minutes).only_enforce_if(taken)
                model.add(end <= along.last_position_by(job.due)).only_enforce_if(taken)
                model.add(start >= along.position_from(job.ready)).only_enforce_if(
                    taken
                )
                if job.unbroken and way.minutes and way.axis != CLOCK:
                    marks = zip(along.marks, along.marks[1:], strict=False)
                    spans = [
                        [low, high - way.minutes]
                        for low, high in marks
                        if high - low >= way.minutes
                    ]
                    domain = cp_model.Domain.from_intervals(spans)
                    model.add_linear_expression_in_domain(
                        start, domain
                    ).only_enforce_if(taken)
                if way.axis != self.frame[i]:
                    clock = self._on((i, n), CLOCK)
                    model.add(self.start[i] == clock[0]).only_enforce_if(taken)
                    model.add(self.end[i] == clock[1]).only_enforce_if(taken)

    def _nothing_before_what_it_comes_after(self) -> None:
        for i, literal, before, lag in self._arcs():
            if before not in self.done:
                continue
            both = [literal, self.done[before]]
            if self.frame[before] == self.frame[i] and not lag:
                rule = self.model.add(self.end[before] <= self.start[i])
            else:
                end = self._frame_on_clock(before)[1]
                rule = self.model.add(end + lag <= self._frame_on_clock(i)[0])
            rule.only_enforce_if(both)

    def _arcs(self) -> list[tuple[int, Any, int, int]]:
        """Each "comes after" once, with what makes it bind."""
        found = []
        for i in self.open:
            ways = [self.problem.jobs[i].ways[n] for n in self.scope.ways[i]]
            shared = set(ways[0].after).intersection(*(way.after for way in ways))
            found += [(i, self.done[i], b, lag) for b, lag in sorted(shared)]
            for n in self.scope.ways[i]:
                own = set(self.problem.jobs[i].ways[n].after) - shared
                found += [(i, self.taken[i, n], b, lag) for b, lag in sorted(own)]
        return found

    def _nothing_done_without_what_it_needs(self) -> None:
        for _, literal, before, _ in self._arcs():
            instead = [self.taken[way] for way in self.scope.sparers[before]]
            if before in self.done:
                instead.append(self.done[before])
            self.model.add_bool_or([~literal, *instead])

    def _no_loop_among_the_ways_taken(self) -> None:
        arcs = [arc for arc in self._arcs() if arc[2] in self.done]
        in_loops = on_loops(self.open, [(i, before) for i, _, before, _ in arcs])
        size = max(1, len(in_loops))
        turn = {i: self.model.new_int_var(0, size, f"turn {i}") for i in in_loops}
        for i, literal, before, _ in arcs:
            if i in turn and before in turn:
                self.model.add(turn[i] > turn[before]).only_enforce_if(
                    [literal, self.done[before]]
                )

    def _no_more_at_once_than_there_is(self) -> None:
        for resource, capacity in enumerate(self.problem.capacities):
            axis = self.problem.resource_axes[resource]
            intervals, amounts = [], []
            for i in self.open:
                for n in self.scope.ways[i]:
                    way = self.problem.jobs[i].ways[n]
                    units = dict(way.uses).get(resource, 0)
                    if not units:
                        continue
                    intervals.append(self._interval((i, n), axis))
                    amounts.append(units)
            if intervals and all(2 * units > capacity for units in amounts):
                self.model.add_no_overlap(intervals)
            elif intervals:
                self.model.add_cumulative(intervals, amounts, capacity)

    def _interval(self, which: tuple[int, int], axis: int) -> Any:
        way = self.problem.jobs[which[0]].ways[which[1]]
        start, end = self._on(which, axis)
        size = way.minutes if axis == way.axis else self._size(which, axis, start, end)
        return self.model.new_optional_interval_var(
            start, size, end, self.taken[which], f"{which} on {axis}"
        )

    def _size(self, which: tuple[int, int], axis: int, start: Any, end: Any) -> Any:
        minutes = self.problem.jobs[which[0]].ways[which[1]].minutes
        most = self.problem.axes[axis].length
        size = self.model.new_int_var(min(minutes, most), most, f"size {which}")
        self.model.add(size == end - start).only_enforce_if(self.taken[which])
        return size

    def _no_more_taken_than_is_in_store(self) -> None:
        for store, amount in enumerate(self.problem.stores):
            wanted = [
                dict(self.problem.jobs[i].ways[n].takes).get(store, 0) * taken
                for (i, n), taken in self.taken.items()
                if dict(self.problem.jobs[i].ways[n].takes).get(store, 0)
            ]
            if wanted:
                self.model.add(sum(wanted) <= amount)

    def _no_more_work_than_there_are_hours(self) -> None:
        """Implied by the rest, and told for the bounds: from each start to each end."""
        for resource, capacity in enumerate(self.problem.capacities):
            along = self.problem.axes[self.problem.resource_axes[resource]]
            rows = []
            for i in self.open:
                low = along.position_from(self.scope.heads[i])
                high = along.last_position_by(self.problem.jobs[i].due)
                for n in self.scope.ways[i]:
                    way = self.problem.jobs[i].ways[n]
                    work = dict(way.uses).get(resource, 0) * way.minutes
                    if work:
                        rows.append((low, high, work * self.taken[i, n], work))
            for low in _some({low for low, _, _, _ in rows}):
                for high in _some({high for _, high, _, _ in rows}):
                    inside = [row for row in rows if low <= row[0] and row[1] <= high]
                    room = capacity * max(0, high - low)
                    if sum(row[3] for row in inside) > room:
                        self.model.add(sum(row[2] for row in inside) <= room)

    # Axes linked

    def _frame_on_clock(self, i: int) -> Span:
        axis = self.frame[i]
        return (
            self.links.moment((i, -1, False), self.start[i], axis, CLOCK),
            self.links.moment((i, -1, True), self.end[i], axis, CLOCK),
        )

    def _on(self, which: tuple[int, int], axis: int) -> Span:
        i, n = which
        own = self.problem.jobs[i].ways[n].axis
        start, end = self.span[which]
        # Ways that live on their activity's axis share its links.
        by = -1 if own == self.frame[i] else n
        return (
            self.links.moment((i, by, False), start, own, axis),
            self.links.moment((i, by, True), end, own, axis),
        )

    # The aims

    def _aims(self) -> None:
        jobs = self.problem.jobs
        self.pinned = sum(self.done[i] for i in self.open if jobs[i].pinned is not None)
        self.satisfied = {}
        for i, job in enumerate(jobs):
            ways = [self.taken[way] for way in self.scope.sparers[i]]
            if i in self.done:
                ways.append(self.done[i])
            if not job.required or not ways:
                continue
            self.satisfied[i] = ways[0]
            if len(ways) > 1:
                self.satisfied[i] = self.model.new_bool_var(f"{job.id} seen to")
                self.model.add_bool_or([~self.satisfied[i], *ways])
        self.required = sum(self.satisfied.values())
        self.points = sum(
            jobs[i].ways[n].points * taken for (i, n), taken in self.taken.items()
        )

    def _nothing_is_over_after_the_finish(self) -> None:
        self.finish = self.model.new_int_var(0, self.problem.horizon, "finish")
        for axis in sorted(set(self.frame.values())):
            self._finish_is_not_before(axis)

    def _finish_is_not_before(self, axis: int) -> None:
        along = self.problem.axes[axis]
        here = [i for i in self.open if self.frame[i] == axis]
        last = self.finish
        if axis != CLOCK:
            last = self.model.new_int_var(0, along.length, f"last on {axis}")
            literals = []
            for window, (opens, _) in enumerate(along.windows):
                low, high = along.marks[window], along.marks[window + 1]
                literal = self.model.new_bool_var(f"last on {axis} in {window}")
                self.model.add_linear_constraint(last, low + 1, high).only_enforce_if(
                    literal
                )
                self.model.add(self.finish >= last + (opens - low)).only_enforce_if(
                    literal
                )
                literals.append(literal)
            nothing = self.model.new_bool_var(f"nothing on {axis}")
            self.model.add(last == 0).only_enforce_if(nothing)
            self.model.add_exactly_one([*literals, nothing])
        for i in here:
            self.model.add(self.end[i] <= last).only_enforce_if(self.done[i])

    # Hints in, plans out

    def hint(self, plan: Plan) -> dict[int, int]:
        """What the variables are in this plan, as far as it says."""
        told: dict[int, int] = {}
        for i, literal in self.done.items():
            told[literal.index] = int(i in plan)
        for (i, n), literal in self.taken.items():
            told[literal.index] = int(i in plan and plan[i].way == n)
        for i, placed in plan.items():
            along = self.problem.axes[self.frame[i]]
            told[self.start[i].index] = along.position_from(placed.start)
            if isinstance(self.end[i], cp_model.IntVar):
                told[self.end[i].index] = along.last_position_by(placed.finish)
        told |= self.links.hint(plan)
        return told

    def plan(self, outcome: Outcome) -> Plan:
        """What the solver found, each activity moved to its earliest."""
        ways: dict[int, int] = {}
        starts = [0.0] * len(self.problem.jobs)
        for i in self.open:
            if outcome.holds(self.done[i]):
                ways[i] = next(
                    n for n in self.scope.ways[i] if outcome.holds(self.taken[i, n])
                )
                along = self.problem.axes[self.frame[i]]
                starts[i] = along.start_clock(outcome[self.start[i]])
        return placed_in_order(self.problem, in_order(self.problem, ways, starts))


_LIMITS = 12


def _some(limits: set[int]) -> list[int]:
    """All of them, or so many spread evenly."""
    ordered = sorted(limits)
    step = max(1, -(-len(ordered) // _LIMITS))
    return ordered[::step]


def on_loops(nodes: list[int], arcs: list[tuple[int, int]]) -> list[int]:
    """The nodes that remain when those that end all their chains are taken away."""
    left = set(nodes)
    while True:
        before = {tail for tail, head in arcs if tail in left and head in left}
        after = {head for tail, head in arcs if tail in left and head in left}
        kept = left & before & after
        if kept == left:
            return sorted(left)
        left = kept
