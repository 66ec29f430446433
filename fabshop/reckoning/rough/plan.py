"""A shop's plan: the schedule planner asked, so that it answers the same again."""

from __future__ import annotations

from typing import Any

from fabshop.reckoning.questions.schedule import schedule_question
from fabshop.reckoning.schedule import plan_schedule

Data = dict[str, Any]


def plan_shop(question: Data, kept: Data | None = None) -> Data:
    """The answer to a schedule question of a shop, by counted work and not the clock.

    `kept` is the answer before: it stays as far as it can still be done, where no plan
    is better.
    """
    return plan_schedule(schedule_question(question), kept=kept, steady=True)


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
