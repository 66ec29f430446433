"""What a cutting plan comes to, aim by aim, and how far each aim is proven."""

from __future__ import annotations

import time
from collections.abc import Callable
from dataclasses import dataclass, field
from threading import Thread
from typing import TypeVar

from fabshop.reckoning.cutting.problem import Plan, Problem

T = TypeVar("T")
Rank = tuple[int, int, int, int]
"""Pieces cut, cost, length and longest drop, each so that more is better."""


def rank(problem: Problem, plan: Plan) -> Rank:
    """Counted from the bars, not from a solver; costs and lengths stand negative."""
    return (
        sum(sum(bar.counts) for bar in plan),
        -sum(problem.kinds[bar.kind].cost for bar in plan),
        -sum(problem.kinds[bar.kind].length_um for bar in plan),
        longest_drop_um(problem, plan),
    )


def longest_drop_um(problem: Problem, plan: Plan) -> int:
    """The longest of what is left of the opened bars."""
    lefts = (problem.left_um(bar.kind, bar.load(problem)) for bar in plan)
    return max(lefts, default=0)


@dataclass(frozen=True)
class Best:
    """The best plan found, and the most that each aim can be at all (as in `rank`).

    A bound holds for plans that reach the aims before it; the first that is not
    reached is the gap, and those after it mean nothing.
    """

    plan: Plan
    bounds: Rank


@dataclass
class Budget:
    """The time left for one question."""

    limit_s: float
    began: float = field(default_factory=time.monotonic)

    @property
    def left_s(self) -> float:
        """Seconds until the limit, never less than none."""
        return max(0.0, self.began + self.limit_s - time.monotonic())


def bounded(call: Callable[[], T], limit_s: float) -> T | None:
    """What the call returns, or None when it overruns: it is then left to itself.

    A solver looks at its own limit only between steps, and a step may be long.
    """
    answers: list[T] = []
    faults: list[BaseException] = []

    def work() -> None:
        try:
            answers.append(call())
        except BaseException as fault:  # handed on below, in the caller's thread
            faults.append(fault)

    thread = Thread(target=work, daemon=True)
    thread.start()
    thread.join(limit_s)
    if faults:
        raise faults[0]
    return answers[0] if answers else None
