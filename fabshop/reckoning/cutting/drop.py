"""The longest that one bar of given bars can be left, the others carrying the rest."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from fabshop.reckoning.cutting.assign import MOST_CELLS, assigned
from fabshop.reckoning.cutting.best import Budget
from fabshop.reckoning.cutting.lucky import lucky
from fabshop.reckoning.cutting.pattern import Patterns
from fabshop.reckoning.cutting.problem import Plan, Problem
from fabshop.reckoning.cutting.whole import fill
from fabshop.reckoning.solver import Ended

_NODES = 400
_TRIES = 15
_MOST_PATTERNS = 1_500


@dataclass
class Drop:
    """One bar of `kind` is to carry as little as can be.

    The less it carries, the less may be wasted on the others, and the fewer patterns
    there are: so the longest drops are asked for first.
    """

    problem: Problem
    patterns: Patterns
    bars: Sequence[int]
    kind: int
    budget: Budget

    def longest(self, start: Plan, reached_um: int) -> tuple[Plan, int]:
        """A plan with a drop longer than what is reached, or else the start.

        And how long a drop of this kind can be at most, in micrometres, where that
        is more than the plan's own.
        """
        problem, kind = self.problem, self.kind
        caps = [each.cap for each in problem.kinds]
        spare = problem.kinds[kind].length_um - problem.trim_um - reached_um - 1
        most = min(caps[kind], spare // problem.unit_um)
        needed = sum(sort.weight * sort.count for sort in problem.sorts)
        carried = sum(cap * n for cap, n in zip(caps, self.bars, strict=True))
        least = max(1, needed - (carried - caps[kind]))
        room, step, plan = least, 1 + caps[kind] // 1000, start
        while least <= most and self.budget.left_s > 0:
            room = min(max(room, least), most)
            found = self._by_chance(room)
            if found is not None:
                plan, most = found, self._lightest(found) - 1
                continue
            columns = self.patterns.complete(self.bars, _MOST_PATTERNS, kind, room)
            if columns is None:
                break
            filled = fill(
                problem,
                self.bars,
                columns,
                self.budget,
                nodes=_NODES,
                light=kind,
                at_most=room,
            )
            if filled.plan:
                plan, most = filled.plan, self._lightest(filled.plan) - 1
            if filled.ended is Ended.PROVEN:
                return plan, 0
            if filled.ended is not Ended.IMPOSSIBLE:
                break
            least, room, step = room + 1, room + step, step * 2
        return self._or_assigned(plan, least, most)

    def _by_chance(self, room: int) -> Plan | None:
        return lucky(
            self.problem,
            self.bars,
            self.budget,
            tries=_TRIES,
            light=self.kind,
            room=room,
        )

    def _lightest(self, plan: Plan) -> int:
        loads = [bar.load(self.problem) for bar in plan if bar.kind == self.kind]
        return min(loads, default=0)

    def _or_assigned(self, plan: Plan, least: int, most: int) -> tuple[Plan, int]:
        if least > most:
            return plan, 0
        bound = self.problem.left_um(self.kind, least)
        size = sum(self.bars) * len(self.problem.sorts)
        if size > MOST_CELLS or self.budget.left_s <= 0:
            return plan, bound
        filled = assigned(self.problem, self.bars, plan, self.budget, self.kind, most)
        is_known = filled.ended in (Ended.PROVEN, Ended.IMPOSSIBLE)
        return filled.plan or plan, 0 if is_known else bound
