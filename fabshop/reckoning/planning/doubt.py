"""What is in doubt about a plan: the days of its parts, and the minutes of its work."""

from __future__ import annotations

from collections import defaultdict
from datetime import datetime, time, timedelta
from typing import Any

from fabshop.reckoning.arrivals import arrivals
from fabshop.reckoning.facts import Facts
from fabshop.reckoning.hours import factors_of
from fabshop.reckoning.planning.context import whole_minute, written
from fabshop.reckoning.planning.question import ME

Data = dict[str, Any]
SEED = 20270903
GUESSED = (0.8, 1.0, 1.6)
"""Parts of the planned minutes where a family's log says too little."""


def sure_question(facts: Facts, likely: Data, late: Data, *, runs: int = 2000) -> Data:
    """What the simulation is asked: the kept plan, and that for late days."""
    plans = [{"id": "kept", **_without_days(likely)}]
    if late["answer"]["activities"]:
        plans.append({"id": "late", **_without_days(late)})
    for one in likely["beside"].get("instead", ()):
        # Each teardown choice not taken, under the same draws.
        if one.get("answer", {}).get("activities"):
            told = {"question": one["question"], "answer": one["answer"]}
            plan = told | {"beside": likely["beside"]}
            plans.append({"id": f"instead {one['line']}", **_without_days(plan)})
    return {
        "plans": plans,
        "arrivals": _days(facts, likely),
        "work": _work(facts, likely),
        "resource": ME,
        "days": _mornings(facts, likely["question"]),
        "runs": runs,
        "seed": SEED,
        "most": 10,
    }


def _without_days(plan: Data) -> Data:
    """The plan's question without the days of its lines: those are drawn."""
    lines = plan["beside"]["lines"]
    activities = [
        {key: value for key, value in one.items() if key != "ready"}
        if one["id"] in lines
        else one
        for one in plan["question"]["activities"]
    ]
    return {
        "question": plan["question"] | {"activities": activities},
        "answer": plan["answer"],
    }


def _days(facts: Facts, plan: Data) -> list[Data]:
    known = arrivals(facts)
    found = []
    for line in sorted(plan["beside"]["lines"]):
        arrival = known.get(line)
        if arrival is None or arrival.likely_at is None:
            continue
        likely = whole_minute(arrival.likely_at)
        early = min(arrival.early_at or likely, likely)
        late = max(arrival.late_at or likely, likely)
        found.append(
            {
                "id": line,
                "activities": [line],
                "early": written(whole_minute(max(early, facts.now))),
                "likely": written(likely),
                "late": written(whole_minute(late)),
            }
        )
    return found


def _work(facts: Facts, plan: Data) -> list[Data]:
    """By family: the least and the most that its finished tasks took of the planned."""
    factors = factors_of(facts)
    families: dict[str, list[str]] = defaultdict(list)
    done = {row["id"] for row in plan["answer"]["activities"]}
    for name, stretches in plan["beside"]["stretches"].items():
        task = facts.task_by_id.get(name)
        if task is not None:
            families[task.family] += [one for one in stretches if one in done]
    found = []
    for family, activities in sorted(families.items()):
        early, likely, late = GUESSED
        factor = factors.get(family)
        if factor is not None and factor.bites:
            early = min(1.0, factor.lowest / factor.factor)
            late = max(1.0, factor.highest / factor.factor)
        if activities:
            found.append(
                {
                    "id": family or "other",
                    "activities": activities,
                    "early": round(early, 4),
                    "likely": likely,
                    "late": round(late, 4),
                }
            )
    return found


def _mornings(facts: Facts, question: Data) -> list[str]:
    """Each day's beginning from now to the deadline, where the band is read."""
    if "deadline" not in question:
        return []
    end = datetime.fromisoformat(question["deadline"])
    found = [question["origin"]]
    at = datetime.combine(facts.now.date(), time()) + timedelta(days=1)
    while at < end:
        found.append(written(at))
        at += timedelta(days=1)
    return [*found, question["deadline"]]
