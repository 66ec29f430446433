"""The shop minute by minute, from the question's own text: no code of ours.

Everything is looked up per minute of the clock in plain sets, as slow as it is sure.
"""

from __future__ import annotations

from datetime import datetime, timedelta
from functools import cached_property
from typing import Any, NamedTuple


class Done(NamedTuple):
    """An activity as it is done: minutes from the origin."""

    way: str
    start: int
    finish: int


class Shop:
    """What may be done in each minute, and whether a whole plan may be."""

    def __init__(self, question: dict[str, Any]) -> None:
        self.question = question
        self.origin = datetime.fromisoformat(question["origin"])
        self.activities = {one["id"]: one for one in question["activities"]}
        self.resources = {one["id"]: one for one in question.get("resources", [])}
        self.stores = {one["id"]: one["amount"] for one in question.get("stores", [])}
        self.deadline = self.minute(question.get("deadline"))

    def minute(self, moment: str | None) -> int | None:
        if moment is None:
            return None
        since = datetime.fromisoformat(moment) - self.origin
        return since // timedelta(minutes=1)

    @cached_property
    def open_minutes(self) -> dict[str, set[int] | None]:
        """The minutes in which each resource is there; None for always."""
        found: dict[str, set[int] | None] = {}
        for name, resource in self.resources.items():
            windows = resource.get("windows")
            if windows is None:
                found[name] = None
                continue
            found[name] = set()
            for start, end in windows:
                found[name] |= set(range(self.minute(start), self.minute(end)))
        return found

    def way(self, name: str, way: str) -> dict[str, Any]:
        return next(one for one in self.activities[name]["ways"] if one["id"] == way)

    def uses(self, way: dict[str, Any]) -> dict[str, int]:
        if not way["minutes"]:
            return {}
        return {name: units for name, units in way.get("uses", {}).items() if units}

    def is_worked(self, way: dict[str, Any], minute: int) -> bool:
        sets = (self.open_minutes[name] for name in self.uses(way))
        return minute >= 0 and all(there is None or minute in there for there in sets)

    def finish_from(
        self, name: str, way: dict[str, Any], start: int, limit: int
    ) -> int | None:
        """When it is over if its first minute is `start`; None where that is not on."""
        if not way["minutes"]:
            return start
        worked, at = 0, start
        while at < limit:
            if self.is_worked(way, at):
                worked += 1
            elif at == start or self.activities[name].get("unbroken"):
                return None
            at += 1
            if worked == way["minutes"]:
                return at
        return None

    def before(self, name: str, way: dict[str, Any]) -> list[tuple[str, int]]:
        """What comes before it in this way, with the lags."""
        both = [*self.activities[name].get("after", []), *way.get("after", [])]
        return [(one["id"], one.get("lag", 0)) for one in both]

    def spared(self, plan: dict[str, Done]) -> set[str]:
        return {
            other
            for name, done in plan.items()
            for other in self.way(name, done.way).get("spares", [])
        }

    def faults(self, plan: dict[str, Done]) -> list[str]:
        """Everything in the plan that may not be."""
        return [
            *(fault for name in plan for fault in self._faults_of(name, plan)),
            *self._too_much_at_once(plan),
            *self._too_much_taken(plan),
        ]

    def _faults_of(self, name: str, plan: dict[str, Done]) -> list[str]:
        activity, done = self.activities[name], plan[name]
        way = self.way(name, done.way)
        found = []
        if activity.get("pinned") not in (None, done.way):
            found.append(f"{name} is pinned to another way")
        if self.finish_from(name, way, done.start, done.finish + 1) != done.finish:
            found.append(f"{name} is not worked from {done.start} to {done.finish}")
        ready, due = (
            self.minute(activity.get("ready")),
            self.minute(activity.get("due")),
        )
        if done.start < max(0, ready or 0):
            found.append(f"{name} is begun too soon")
        for limit in (due, self.deadline):
            if limit is not None and done.finish > limit:
                found.append(f"{name} is over too late")
        for other, lag in self.before(name, way):
            if other in plan and done.start < plan[other].finish + lag:
                found.append(f"{name} does not wait for {other}")
            if other not in plan and other not in self.spared(plan):
                found.append(f"{name} is done without {other}")
        return found

    def _too_much_at_once(self, plan: dict[str, Done]) -> list[str]:
        load: dict[tuple[str, int], int] = {}
        for name, done in plan.items():
            for resource, units in self.uses(self.way(name, done.way)).items():
                for minute in range(done.start, done.finish):
                    key = (resource, minute)
                    load[key] = load.get(key, 0) + units
        return [
            f"too much of {resource} in minute {minute}"
            for (resource, minute), units in load.items()
            if units > self.resources[resource].get("capacity", 1)
        ]

    def _too_much_taken(self, plan: dict[str, Done]) -> list[str]:
        taken: dict[str, float] = {}
        for name, done in plan.items():
            for store, amount in self.way(name, done.way).get("takes", {}).items():
                taken[store] = taken.get(store, 0) + amount
        return [
            f"too much of {store}"
            for store, amount in taken.items()
            if amount > self.stores[store] + 1e-9
        ]

    def rank(self, plan: dict[str, Done]) -> tuple[int, int, int, int]:
        """Pins, required, points, and the finish negative: more is better."""
        spared = self.spared(plan)
        return (
            sum(bool(self.activities[name].get("pinned")) for name in plan),
            sum(
                one.get("required", True) and (name in plan or name in spared)
                for name, one in self.activities.items()
            ),
            sum(self.way(name, d.way).get("points", 0) for name, d in plan.items()),
            -max((done.finish for done in plan.values()), default=0),
        )

    def told(self, answer: dict[str, Any], finish: str = "finish") -> dict[str, Done]:
        """The plan that an answer tells."""
        return {
            row["id"]: Done(
                row["way"], self.minute(row["start"]), self.minute(row[finish])
            )
            for row in answer["activities"]
        }
