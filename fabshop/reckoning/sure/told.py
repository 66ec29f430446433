"""What the runs of a plan come to, as plain data."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from fabshop.reckoning.questions.strict import minute_of, moment_of
from fabshop.reckoning.sure.hours import NEVER, Whole
from fabshop.reckoning.sure.trial import Trial
from fabshop.reckoning.sure.walk import Walked

Answer = dict[str, Any]
Yes = NDArray[np.bool_]
"""In which runs something is so."""
PARTS = (10, 50, 90)


def plan_told(trial: Trial, walked: Walked) -> Answer:
    """Chances and spread of the whole and of each activity."""
    end = trial.end(walked)
    return {
        "id": trial.plan.id,
        "chance": _share(all_in_time(trial, walked)),
        "finish": _moments(trial, end),
        "in_hand": None if trial.deadline is None else _in_hand(trial, end),
        "activities": [
            {
                "id": trial.problem.jobs[i].id,
                "chance": _share(_in_time(trial, i, walked)),
                **_moments(trial, walked.finishes[i]),
            }
            for i, _ in trial.order
        ],
    }


def all_in_time(trial: Trial, walked: Walked) -> Yes:
    """In which runs everything is over by the deadline and each by its own limit."""
    runs = len(trial.end(walked))
    found: Yes = np.ones(runs, dtype=bool)
    for i, _ in trial.order:
        found = found & _in_time(trial, i, walked)
    return found


def _in_time(trial: Trial, i: int, walked: Walked) -> Yes:
    limit = trial.limit_of(i)
    found: Yes = walked.finishes[i] <= (NEVER - 1 if limit is None else limit)
    return found


def _in_hand(trial: Trial, end: Whole) -> Answer:
    """Worked minutes from the end to the deadline; less than none where it is late."""
    hours = trial.hours
    by = hours.position_from(np.array([trial.deadline], dtype=np.int64))[0]
    left = by - hours.position_from(end)
    return {f"p{part}": int(_part(left, part)) for part in PARTS}


def band_of(trial: Trial, walked: Walked) -> list[Answer]:
    """At each moment asked for: minutes still wanted, and there until the deadline."""
    if trial.resource is None:
        return []
    hours = trial.hours
    spans = [
        (hours.position_from(walked.starts[i]), hours.position_from(walked.finishes[i]))
        for i, n in trial.order
        if trial.resource in dict(trial.problem.jobs[i].ways[n].uses)
    ]
    found = []
    for day in trial.asked.days:
        minute = np.array([minute_of(day) - trial.problem.origin], dtype=np.int64)
        at = hours.position_from(np.maximum(minute, 0))[0]
        left: Whole = np.zeros(trial.asked.runs, dtype=np.int64)
        for start, finish in spans:
            left = left + np.maximum(0, finish - np.maximum(start, at))
        line: Answer = {"at": day}
        line |= {f"p{part}": int(_part(left, part)) for part in PARTS}
        line["available"] = None
        if trial.deadline is not None:
            limit = np.array([trial.deadline], dtype=np.int64)
            line["available"] = int(max(0, hours.position_from(limit)[0] - at))
        found.append(line)
    return found


def _moments(trial: Trial, finishes: Whole) -> Answer:
    found: Answer = {}
    for part in PARTS:
        minute = int(_part(finishes, part))
        is_told = minute < NEVER
        found[f"p{part}"] = (
            moment_of(trial.problem.origin + minute) if is_told else None
        )
    return found


def _part(numbers: Whole, part: int) -> int:
    """The least that so many in a hundred do not pass: one of the numbers."""
    return int(np.percentile(numbers, part, method="inverted_cdf"))


def _share(is_so: Yes) -> float:
    return round(float(is_so.mean()), 4)
