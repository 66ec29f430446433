"""What each goal costs: the points that the hours hold with it, and without it."""

from __future__ import annotations

from typing import Any

from fabshop.reckoning.planning.way import FINAL, base_of
from fabshop.reckoning.questions.schedule import schedule_question
from fabshop.reckoning.rough.choice import choose
from fabshop.reckoning.schedule.problem import problem_of

Data = dict[str, Any]
_EACH_S = 0.5


def prices(question: Data, answer: Data) -> dict[str, Data]:
    """By goal that the plan does not do its final way: what it would cost to have it.

    By the hours alone, as bench minutes and points: `points` of the best choice with
    it and of the best at all, and which goals go another way for it. None of them
    where the hours cannot hold it with every must.
    """
    goals = [
        one["id"]
        for one in question["activities"]
        if any(base_of(way["id"]) == FINAL and way.get("points") for way in one["ways"])
    ]
    taken = {row["id"]: base_of(row["way"]) for row in answer["activities"]}
    asked = schedule_question(question)
    free = choose(problem_of(asked), limit_s=_EACH_S, steady=True)
    if free is None:
        return {}
    found: dict[str, Data] = {}
    for goal in goals:
        if taken.get(goal) == FINAL:
            continue
        with_it = choose(
            problem_of(schedule_question(wished(question, goal))),
            limit_s=_EACH_S,
            steady=True,
        )
        if with_it is None or with_it.missing > free.missing:
            found[goal] = {"points": None, "best": free.points}
        else:
            found[goal] = {
                "points": with_it.points,
                "best": free.points,
                "minutes": with_it.minutes,
            }
    return found


def wished(question: Data, goal: str) -> Data:
    """The question with one goal held to its final way, as a must."""
    return question | {
        "activities": [
            one
            | {
                "required": True,
                "ways": [w for w in one["ways"] if base_of(w["id"]) == FINAL],
            }
            if one["id"] == goal
            else one
            for one in question["activities"]
        ]
    }
