"""The answer to a schedule question, as the plain data that the format names."""

from __future__ import annotations

from typing import Any

from fabshop.reckoning.questions.strict import minute_of, moment_of
from fabshop.reckoning.schedule.best import AIMS, Best
from fabshop.reckoning.schedule.latest import latest_finishes
from fabshop.reckoning.schedule.place import Placed, Plan
from fabshop.reckoning.schedule.problem import Problem

Answer = dict[str, Any]


def answer_of(problem: Problem, best: Best, left_out: list[Answer]) -> Answer:
    """A plan, what is proven about it, and what it leaves out."""
    answer: Answer = {"status": "optimal" if best.gap is None else "feasible"}
    if best.gap is not None:
        answer["gap"] = _gap(problem, best, best.gap)
    finish = -best.rank[3]
    answer["finish"] = moment_of(problem.origin + finish) if best.plan else None
    answer["makespan_minutes"] = finish
    answer["points"] = best.rank[2]
    answer["activities"] = _activities(problem, best)
    answer["left_out"] = left_out
    return answer


def impossible(why: str) -> Answer:
    """No plan at all: what is forced contradicts itself."""
    return {
        "status": "infeasible",
        "why": why,
        "finish": None,
        "makespan_minutes": None,
        "points": 0,
        "activities": [],
        "left_out": [],
    }


def kept_plan(problem: Problem, answer: Answer) -> Plan:
    """What an answer given before says about activities that are still asked for."""
    places = {job.id: i for i, job in enumerate(problem.jobs)}
    found: Plan = {}
    for row in answer.get("activities", []):
        i = places.get(row["id"])
        if i is None:
            continue
        names = [way.id for way in problem.jobs[i].ways]
        if row["way"] in names:
            start, finish = (
                minute_of(row[field]) - problem.origin for field in ("start", "finish")
            )
            found[i] = Placed(names.index(row["way"]), start, finish)
    return found


def _gap(problem: Problem, best: Best, place: int) -> Answer:
    reached: Any = best.rank[place]
    bound: Any = best.bounds[place]
    if AIMS[place] == "finish":
        reached = moment_of(problem.origin - reached)
        bound = moment_of(problem.origin - bound)
    return {"aim": AIMS[place], "reached": reached, "bound": bound}


def _activities(problem: Problem, best: Best) -> list[Answer]:
    """In the order of their starts."""
    latest = latest_finishes(problem, best.plan)
    rows = sorted(best.plan.items(), key=lambda row: (row[1].start, row[1].finish))
    return [
        {
            "id": problem.jobs[i].id,
            "way": problem.jobs[i].ways[placed.way].id,
            "start": moment_of(problem.origin + placed.start),
            "finish": moment_of(problem.origin + placed.finish),
            "latest_finish": moment_of(problem.origin + latest[i]),
        }
        for i, placed in rows
    ]
