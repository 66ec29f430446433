"""The same moment on two axes: a literal for each window it can lie in."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from ortools.sat.python import cp_model

from fabshop.reckoning.schedule.place import Plan
from fabshop.reckoning.schedule.problem import Problem

Key = tuple[int, int, bool]
"""An activity, its way (-1: whichever), and whether it is the end that is meant."""
Limits = Callable[[int, int], tuple[int, int]]
"""Between which positions of an axis an activity can lie."""


class Links:
    """Made once where something asks for them, and shared by all that ask."""

    def __init__(
        self, problem: Problem, model: cp_model.CpModel, limits: Limits
    ) -> None:
        self.problem, self.model, self.limits = problem, model, limits
        self.told: list[tuple[Any, Key, int, tuple[int, int] | None]] = []
        self._windows_of: dict[Key, list[tuple[int, Any, int, int]]] = {}
        self._mapped: dict[tuple[Key, int], Any] = {}

    def moment(self, key: Key, position: Any, axis: int, target: int) -> Any:
        """The same moment on another axis, which has all of this one's windows."""
        if axis == target:
            return position
        if (key, target) not in self._mapped:
            self._mapped[key, target] = self._linked(key, position, axis, target)
        return self._mapped[key, target]

    def _linked(self, key: Key, position: Any, axis: int, target: int) -> Any:
        along, other = self.problem.axes[axis], self.problem.axes[target]
        literals = self._window_literals(key, position, axis)
        offsets = []
        for window, _, _, _ in literals:
            opens = along.windows[window][0]
            offsets.append(other.position_from(opens) - along.marks[window])
        if len(literals) == 1:
            return position + offsets[0]
        limits = [
            (first + offset, last + offset)
            for (_, _, first, last), offset in zip(literals, offsets, strict=True)
        ]
        low = min(first for first, _ in limits)
        high = max(last for _, last in limits)
        moment = self.model.new_int_var(low, high, f"{key} on {target}")
        self.told.append((moment, key, target, None))
        self.model.add(
            moment - position
            == sum(o * w[1] for w, o in zip(literals, offsets, strict=True))
        )
        for (_, literal, _, _), (first, last) in zip(literals, limits, strict=True):
            rule = self.model.add_linear_constraint(moment, first, last)
            rule.only_enforce_if(literal)
        return moment

    def _window_literals(
        self, key: Key, position: Any, axis: int
    ) -> list[tuple[int, Any, int, int]]:
        """In which window of its axis it lies: a literal each, with its limits."""
        if key in self._windows_of:
            return self._windows_of[key]
        along = self.problem.axes[axis]
        i, _, is_end = key
        low, high = self.limits(i, axis)
        found: list[tuple[int, Any, int, int]] = []
        for window in range(len(along.windows)):
            first = along.marks[window] + is_end
            last = along.marks[window + 1] - (not is_end)
            if last < low or first > high:
                continue
            literal = self.model.new_bool_var(f"{key} in {window}")
            self.told.append((literal, key, axis, along.windows[window]))
            found.append((window, literal, first, last))
        self.model.add_exactly_one([literal for _, literal, _, _ in found])
        for _, literal, first, last in found:
            self.model.add_linear_constraint(position, first, last).only_enforce_if(
                literal
            )
        self._windows_of[key] = found
        return found

    def hint(self, plan: Plan) -> dict[int, int]:
        """What the linked moments and their windows are in this plan."""
        told: dict[int, int] = {}
        for variable, (i, n, is_end), target, span in self.told:
            if i not in plan or n not in (-1, plan[i].way):
                continue
            moment = plan[i].finish if is_end else plan[i].start
            if span is not None:
                told[variable.index] = int(
                    span[0] + is_end <= moment < span[1] + is_end
                )
                continue
            along = self.problem.axes[target]
            told[variable.index] = (
                along.last_position_by(moment)
                if is_end
                else along.position_from(moment)
            )
        return told
