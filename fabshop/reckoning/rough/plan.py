"""A shop's plan: the ways chosen by the hours first, then everything in its time."""

from __future__ import annotations

import time
from collections.abc import Mapping
from typing import Any

from fabshop.reckoning.planning.turns import FIRST
from fabshop.reckoning.planning.way import SLOT, base_of
from fabshop.reckoning.questions import parse
from fabshop.reckoning.questions.schedule import ScheduleQuestion, schedule_question
from fabshop.reckoning.rough.choice import Choice, choose
from fabshop.reckoning.schedule import plan_schedule
from fabshop.reckoning.schedule.problem import problem_of

Data = dict[str, Any]
_LESS = (0, 60, 150, 300)
"""Minutes taken out of the hours where what was chosen could not be put in order."""
_TRY_S = 2.0
_TRY_SHARE = 0.35
_ROUGH_S = 0.6


def plan_shop(question: Data, like: Mapping[str, str] | None = None) -> Data:
    """The answer to a schedule question of a shop, with the most points found.

    Ways are chosen that the hours can hold, and only they are put in order; where
    that leaves a must out, with fewer hours again. What the hours can hold at all
    bounds every plan: one that reaches it is proven. Otherwise everything is planned
    at once in the time that is left, and the better answer counts. `like` are the
    ways of a plan before, kept to where that costs nothing.
    """
    limit_s = float(question.get("time_limit_s", 5.0))
    began = time.monotonic()
    asked = parse("schedule", question)
    assert isinstance(asked, ScheduleQuestion)
    problem = problem_of(asked)
    best: Data | None = None
    most: tuple[int, int] | None = None
    try_s = min(_TRY_S, _TRY_SHARE * limit_s)
    for less in _LESS:
        left = limit_s - (time.monotonic() - began)
        if left < try_s and less:
            break
        choice = choose(problem, less=less, limit_s=min(_ROUGH_S, left), like=like)
        if choice is None or (best and _is_as_good(question, best, choice)):
            break
        ids = {
            problem.jobs[i].id: problem.jobs[i].ways[n].id
            for i, n in choice.ways.items()
        }
        if not less and choice.is_proven:
            most = (-choice.missing, choice.points)
        narrow = narrowed(question, ids) | {"time_limit_s": try_s}
        answer = plan_schedule(schedule_question(narrow))
        if best is None or rank(question, answer) > rank(question, best):
            best = answer
        if _is_as_good(question, best, choice):
            break
    if best is not None and most is not None:
        if rank(question, best)[:2] == most:
            return _proven(question, best)
        if rank(question, best)[0] == most[0]:
            return _not_proven(question, best, {"left_out": []}, most)
    left = max(0.2, limit_s - (time.monotonic() - began))
    whole = plan_schedule(schedule_question(question | {"time_limit_s": left}))
    if best is None or rank(question, whole) >= rank(question, best):
        return whole
    return _not_proven(question, best, whole, most)


def _is_as_good(question: Data, answer: Data, choice: Choice) -> bool:
    """Whether the answer does as much as the hours were said to hold."""
    return rank(question, answer)[:2] >= (-choice.missing, choice.points)


def _proven(question: Data, answer: Data) -> Data:
    """Musts and points are the most there can be; the finish is of these ways only."""
    answer = answer | {"left_out": _left_out(question, answer, {})}
    if answer["status"] == "optimal":
        return answer
    return answer | {"status": "feasible"}


def _not_proven(
    question: Data, answer: Data, whole: Data, most: tuple[int, int] | None
) -> Data:
    known = {row["activity"]: row["why"] for row in whole["left_out"]}
    answer = answer | {
        "status": "feasible",
        "left_out": _left_out(question, answer, known),
    }
    missing, points, _ = rank(question, answer)
    if most is not None and missing == most[0]:
        answer["gap"] = {"aim": "points", "reached": points, "bound": most[1]}
    elif most is not None:
        musts = sum(a.get("required", True) for a in question["activities"])
        answer["gap"] = {
            "aim": "required",
            "reached": musts + missing,
            "bound": musts + most[0],
        }
    elif whole.get("gap"):
        answer["gap"] = whole["gap"]
    return answer


def narrowed(question: Data, ways: dict[str, str]) -> Data:
    """The question with these activities only, each in its way.

    Who does it and on which turn of a machine stays open.
    """
    kept = []
    for activity in question["activities"]:
        if activity["id"] not in ways:
            continue
        base = base_of(ways[activity["id"]])
        alike = [
            _among(way, ways)
            for way in activity["ways"]
            if base_of(way["id"]) == base and not _lacks_its_turn(way, ways)
        ]
        after = [x for x in activity.get("after", ()) if x["id"] in ways]
        kept.append(activity | {"ways": alike, "after": after})
    return question | {"activities": kept}


def _lacks_its_turn(way: Data, ways: dict[str, str]) -> bool:
    """Whether it follows a run on its machine that is not to be."""
    turn = way["id"].partition(SLOT)[2]
    return turn not in ("", FIRST) and turn not in ways


def _among(way: Data, ways: dict[str, str]) -> Data:
    way = dict(way)
    for field in ("after", "spares"):
        if field in way:
            way[field] = [x for x in way[field] if _name(x) in ways]
    return way


def rank(question: Data, answer: Data) -> tuple[int, int, int]:
    """How good an answer is: musts missing, points, and the finish; more is better."""
    if answer["status"] == "infeasible":
        return (-len(question["activities"]) - 1, 0, 0)
    done = {row["id"]: row["way"] for row in answer["activities"]}
    spared = {
        name
        for activity in question["activities"]
        for way in activity["ways"]
        if done.get(activity["id"]) == way["id"]
        for name in way.get("spares", ())
    }
    missing = sum(
        1
        for activity in question["activities"]
        if activity.get("required", True)
        and activity["id"] not in done
        and activity["id"] not in spared
    )
    return (-missing, answer["points"], -(answer["makespan_minutes"] or 0))


def _name(link: Any) -> str:
    return str(link["id"]) if isinstance(link, dict) else str(link)


def _left_out(question: Data, answer: Data, known: dict[str, str]) -> list[Data]:
    """Why each is left out; as the whole plan says where it leaves it out too."""
    done = {row["id"] for row in answer["activities"]}
    other = "could be done, but not with what is planned, which counts for more"
    return [
        {"activity": one["id"], "why": known.get(one["id"], other)}
        for one in question["activities"]
        if one["id"] not in done
    ]
