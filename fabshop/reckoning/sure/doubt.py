"""Which doubts cost most: each in turn made sure, all others left as they are.

All are first ranked by how their draws go with the end (Spearman's rank correlation,
the cruciality index of Williams, J. Opl Res. Soc. 43 (1992) 353-357); for those most
entwined the runs are walked again with that one as likely.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from fabshop.reckoning.sure.spread import Draws
from fabshop.reckoning.sure.told import all_in_time
from fabshop.reckoning.sure.trial import Doubt, Trial
from fabshop.reckoning.sure.walk import Walked

_TRIED = 2
"""Walked again: so many times as many doubts as are told."""
_RUNS = 500
"""Runs of each; the first ones, so that the same draws are compared."""


def doubts_of(trial: Trial, walked: Walked) -> list[dict[str, Any]]:
    """The costliest first, as many as asked for."""
    most = trial.asked.most
    if not most or not trial.doubts or not trial.order:
        return []
    ends = trial.hours.position_from(trial.end(walked)).astype(np.float64)
    by_rank = sorted(
        ((_correlation(trial.draws[doubt], ends), doubt) for doubt in trial.doubts),
        key=lambda pair: (-abs(pair[0]), pair[1].name),
    )
    runs = min(_RUNS, trial.asked.runs)
    base = trial.walk(runs=runs)
    found = [
        _cost(trial, doubt, correlation, base, runs)
        for correlation, doubt in by_rank[: _TRIED * most]
    ]
    found.sort(key=lambda one: (-one["chance"], -one["minutes"], one["id"]))
    return found[:most]


def _cost(
    trial: Trial, doubt: Doubt, correlation: float, base: Walked, runs: int
) -> dict[str, Any]:
    sure = trial.walk(fixed=doubt, runs=runs)
    hours = trial.hours
    saved = hours.position_from(trial.end(base)) - hours.position_from(trial.end(sure))
    chance = all_in_time(trial, sure).mean() - all_in_time(trial, base).mean()
    return {
        "kind": doubt.kind,
        "id": doubt.id,
        "activity": doubt.activity,
        "minutes": round(float(saved.mean())),
        "chance": round(float(chance), 4),
        "correlation": round(correlation, 3),
    }


def _correlation(draws: Draws, ends: Draws) -> float:
    """Spearman's: the plain correlation of the ranks, ties at their mean rank."""
    one, other = ranks(draws), ranks(ends)
    if one.std() == 0 or other.std() == 0:
        return 0.0
    return float(np.corrcoef(one, other)[0, 1])


def ranks(numbers: Draws) -> Draws:
    """1 for the least; equal numbers share the mean of their ranks."""
    _, place, counts = np.unique(numbers, return_inverse=True, return_counts=True)
    last = np.cumsum(counts)
    found: Draws = (last - (counts - 1) / 2)[place]
    return found
