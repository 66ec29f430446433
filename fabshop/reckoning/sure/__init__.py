"""How sure a plan is: the same shop walked through some thousands of times.

    worker.run("fabshop.reckoning.sure", "sure", asked, limit_s=30)

`asked` is plain data:

    {"plans": [{"id": "kept", "question": {...}, "answer": {...}}, ...],
                        a schedule question and its answer; the first is the one kept,
                        the others (another teardown, a goal given up) stand beside it
                        under the very same draws
     "arrivals": [{"id": "P02/1", "activities": ["w1", "w7"],
                   "early": "2031-05-08T17:00", "likely": "...", "late": "..."}],
                        one day for all that wait for the line; it binds beside `ready`,
                        so leave the line's own day out of the question's `ready`, or
                        the early day in it
     "work": [{"id": "wiring", "activities": ["w3", "w4"],
               "early": 0.8, "likely": 1.0, "late": 1.7, "together": false}],
                        parts of the minutes planned; `together`: one draw for them all
     "resource": "me",  whose hours the band and the costs count in (none: the clock)
     "days": ["2031-05-06T00:00", ...],      where the band is read
     "runs": 2000, "seed": 20270903, "most": 10}

What nothing is said about turns out as planned. Ids that a plan does not do are passed
over. The answer:

    {"runs": 2000,
     "plans": [{"id": "kept",
       "chance": 0.83,         that all of it is over by the deadline and its own limits
       "finish": {"p10": "...", "p50": "...", "p90": "..."},    null: not in the hours
                                                                entered
       "in_hand": {"p10": -120, "p50": 300, "p90": 640} or null without a deadline:
                                worked minutes of `resource` from end to deadline
       "activities": [{"id": "w1", "chance": 0.97, "p10": "...", "p50": "...",
                       "p90": "..."}, ...]}],
     "band": [{"at": "...", "p10": 900, "p50": 1010, "p90": 1300, "available": 1500}],
                                minutes of `resource` that the kept plan still wants at
                                that moment, and that there are until the deadline
     "doubts": [{"kind": "arrival" or "work", "id": "P02/1", "activity": null or "w3",
                 "minutes": 95, "chance": 0.06, "correlation": 0.41}, ...]}
                                what would be gained if this one turned out as likely
                                and all else stayed in doubt: worked minutes off the
                                mean end, and chance; the costliest first

Policy: the order and the ways of the plan are kept. Each activity in turn goes to the
first gap that it fits (serial generation), so when a parcel is late its turn passes to
what comes behind it.
"""

from __future__ import annotations

from typing import Any

from fabshop.reckoning.sure.asked import read
from fabshop.reckoning.sure.doubt import doubts_of
from fabshop.reckoning.sure.told import band_of, plan_told
from fabshop.reckoning.sure.trial import Trial

__all__ = ["sure"]


def sure(asked: dict[str, Any]) -> dict[str, Any]:
    """The chances of each plan, the band of hours left, and the costliest doubts."""
    found = read(asked)
    trials = [Trial(plan, found) for plan in found.plans]
    walks = [trial.walk() for trial in trials]
    return {
        "runs": found.runs,
        "plans": [
            plan_told(trial, walked)
            for trial, walked in zip(trials, walks, strict=True)
        ],
        "band": band_of(trials[0], walks[0]),
        "doubts": doubts_of(trials[0], walks[0]),
    }
