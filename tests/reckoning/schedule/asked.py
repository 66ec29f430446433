"""Small schedule questions, written short."""

from __future__ import annotations

from typing import Any

from fabshop.reckoning.ask import reckon

DAY = "2031-05-05"


def at(clock: str, day: int = 0) -> str:
    """A moment of the first days: `at("18:00")`, `at("9:30", 2)`."""
    hour, minute = clock.split(":")
    return f"2031-05-{5 + day:02}T{int(hour):02}:{minute}"


def evenings(days: int, begins: str = "18:00", ends: str = "21:00") -> list[list[str]]:
    """The same hours on so many days."""
    return [[at(begins, day), at(ends, day)] for day in range(days)]


def way(minutes: int, uses: str = "me", name: str = "main", **more: Any) -> Any:
    """One way; `uses` names resources, one unit of each."""
    used = {one: 1 for one in uses.split()}
    return {"id": name, "minutes": minutes, "uses": used, **more}


def work(name: str, *ways: Any, after: str = "", **more: Any) -> dict[str, Any]:
    """One activity; `after` names what comes before, `cad+60` with a lag."""
    before = [one.partition("+") for one in after.split()]
    found = {
        "id": name,
        "ways": [way(one) if isinstance(one, int) else one for one in ways],
        "after": [{"id": one, "lag": int(lag or 0)} for one, _, lag in before],
    }
    return {**found, **more}


def asked(*activities: Any, windows: Any = None, **more: Any) -> dict[str, Any]:
    """A question of one person, me, with these windows."""
    me: dict[str, Any] = {"id": "me"}
    if windows is not None:
        me["windows"] = windows
    question = {
        "origin": at("0:00"),
        "resources": [me, *more.pop("resources", [])],
        "activities": list(activities),
        "time_limit_s": 10,
    }
    return {**question, **more}


def answered(*activities: Any, **more: Any) -> dict[str, Any]:
    """The answer to such a question."""
    return reckon("schedule", asked(*activities, **more))


def times(answer: dict[str, Any]) -> dict[str, tuple[str, str]]:
    """Start and finish of each activity, without the month."""
    return {
        row["id"]: (row["start"][8:], row["finish"][8:]) for row in answer["activities"]
    }
