"""Which activities and ways can be at all, and when at the earliest."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from fabshop.reckoning.schedule.place import span_from
from fabshop.reckoning.schedule.problem import Problem, Way

_PASSES = 50
"""Each pass leaves true limits; ways that come after one another could go on."""


@dataclass(frozen=True)
class Scope:
    """What is left to choose from, and true limits of each."""

    ways: tuple[tuple[int, ...], ...]
    """The open ways of each activity; none where it can never be done."""
    heads: tuple[int, ...]
    """Before this clock minute no open way of it can start."""
    ends: tuple[int, ...]
    """And none can be over before this."""
    sparers: tuple[tuple[tuple[int, int], ...], ...]
    """The open ways (activity, way) that spare each activity."""

    def is_open(self, index: int) -> bool:
        """Whether it can be done at all."""
        return bool(self.ways[index])


def scope_of(problem: Problem) -> Scope:
    """Ways fall away one after another until all that is left could be done alone."""
    jobs = problem.jobs
    ways = [
        [
            number
            for number, way in enumerate(job.ways)
            if job.pinned in (None, number) and _has_enough(problem, way)
        ]
        for job in jobs
    ]
    heads = [job.ready for job in jobs]
    ends = [0] * len(jobs)
    order = _roughly_in_order(problem)
    for _ in range(_PASSES):
        changed = False
        sparers = _sparers(problem, ways)
        for index in order:
            job = jobs[index]
            kept, starts, finishes = [], [], []
            for number in ways[index]:
                way = job.ways[number]
                missing = [b for b, _ in way.after if not ways[b] and not sparers[b]]
                head = job.ready
                for before, lag in way.after:
                    if not sparers[before] and before != index:
                        head = max(head, ends[before] + lag)
                span = None
                if not missing and head <= problem.horizon:
                    span = span_from(problem, job, way, head)
                if span is not None:
                    kept.append(number)
                    starts.append(span[0])
                    finishes.append(span[1])
            head, end = min(starts, default=0), min(finishes, default=0)
            if kept != ways[index] or (
                kept and (head, end) != (heads[index], ends[index])
            ):
                ways[index], heads[index], ends[index] = kept, head, end
                changed = True
        if not changed:
            break
    return Scope(
        tuple(tuple(numbers) for numbers in ways),
        tuple(heads),
        tuple(ends),
        tuple(tuple(found) for found in _sparers(problem, ways)),
    )


def narrowed(scope: Scope, ways: Mapping[int, int]) -> Scope:
    """Only these ways, and only these activities, left to choose from."""
    return replace(
        scope,
        ways=tuple((ways[i],) if i in ways else () for i in range(len(scope.ways))),
        sparers=tuple(
            tuple((i, n) for i, n in pairs if ways.get(i) == n)
            for pairs in scope.sparers
        ),
    )


def _has_enough(problem: Problem, way: Way) -> bool:
    """Whether there is as much of everything as this way alone wants."""
    return all(units <= problem.capacities[r] for r, units in way.uses) and all(
        amount <= problem.stores[store] for store, amount in way.takes
    )


def _sparers(problem: Problem, ways: list[list[int]]) -> list[list[tuple[int, int]]]:
    found: list[list[tuple[int, int]]] = [[] for _ in problem.jobs]
    for index, job in enumerate(problem.jobs):
        for number in ways[index]:
            for spared in job.ways[number].spares:
                found[spared].append((index, number))
    return found


def _roughly_in_order(problem: Problem) -> list[int]:
    """What comes before first; where ways make a loop, anyhow."""
    seen: set[int] = set()
    order: list[int] = []
    for root in range(len(problem.jobs)):
        stack = [(root, False)]
        while stack:
            index, is_done = stack.pop()
            if is_done:
                order.append(index)
            elif index not in seen:
                seen.add(index)
                stack.append((index, True))
                for way in problem.jobs[index].ways:
                    stack += [(b, False) for b, _ in way.after if b not in seen]
    return order
