"""The critical path: earliest and latest times, slack, and the chance of a chain."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from fabshop.reckoning.sure.spread import Triple, pert_mean, pert_variance


@dataclass(frozen=True)
class Times:
    """When an activity can and must begin and end so that the last ends earliest."""

    earliest_start: float
    earliest_finish: float
    latest_start: float
    latest_finish: float

    @property
    def slack(self) -> float:
        """How much it may slip without moving the end."""
        return self.latest_start - self.earliest_start


def chain_times(
    minutes: Mapping[str, float], after: Mapping[str, Sequence[str]]
) -> dict[str, Times]:
    """The times of each activity; ValueError where something comes after itself."""
    order = _in_order(minutes, after)
    starts: dict[str, float] = {}
    for name in order:
        starts[name] = max(
            (starts[b] + minutes[b] for b in after.get(name, ())), default=0
        )
    end = max((starts[name] + minutes[name] for name in order), default=0)
    latest = dict.fromkeys(order, end)
    for name in reversed(order):
        for before in after.get(name, ()):
            latest[before] = min(latest[before], latest[name] - minutes[name])
    return {
        name: Times(
            starts[name],
            starts[name] + minutes[name],
            latest[name] - minutes[name],
            latest[name],
        )
        for name in minutes
    }


def critical(times: Mapping[str, Times]) -> list[str]:
    """What may not slip at all."""
    return [name for name, at in times.items() if abs(at.slack) < 1e-9]


def chance_by(limit: float, chain: Iterable[Triple]) -> float:
    """The chance that a chain is over by then, its sum taken as normal."""
    triples = list(chain)
    mean = sum(pert_mean(triple) for triple in triples)
    spread = math.sqrt(sum(pert_variance(triple) for triple in triples))
    if not spread:
        return float(mean <= limit)
    return 0.5 * (1 + math.erf((limit - mean) / spread / math.sqrt(2)))


def _in_order(
    minutes: Mapping[str, float], after: Mapping[str, Sequence[str]]
) -> list[str]:
    order: list[str] = []
    placed: set[str] = set()
    left = list(minutes)
    while left:
        free = [n for n in left if all(b in placed for b in after.get(n, ()))]
        if not free:
            raise ValueError(f"comes after itself: {', '.join(sorted(left))}")
        order += free
        placed.update(free)
        left = [name for name in left if name not in placed]
    return order
