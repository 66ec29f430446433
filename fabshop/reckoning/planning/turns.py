"""Runs one after another on a machine, and what there is of everything used up."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from fabshop.reckoning.facts import StoreFact
from fabshop.reckoning.planning.way import FINAL, SLOT, Stretch

TURN = "turn on "
FIRST = "nothing"

Data = dict[str, Any]


def take_turns(
    activities: dict[str, Data],
    runs: Mapping[str, list[str]],
    tails: Mapping[str, Stretch],
) -> None:
    """Let each run follow one other on its machine, or none.

    It begins when its hands-on is over, while somebody is there, and not at whatever
    hour the machine comes free. A turn is a store of one, so that no two follow the
    same run.
    """
    for machine, names in runs.items():
        starts = list(dict.fromkeys(names))
        if len(starts) < 2:
            continue
        for name in starts:
            ways: list[Data] = []
            for way in activities[name]["ways"]:
                if not way["id"].startswith(FINAL):
                    ways.append(way)
                    continue
                for other in (FIRST, *(n for n in starts if n != name)):
                    ways.append(_turn(machine, way, other, tails))
            activities[name]["ways"] = ways


def _turn(machine: str, way: Data, other: str, tails: Mapping[str, Stretch]) -> Data:
    turn = f"{TURN}{machine}{SLOT}{other}"
    then: Data = way | {
        "id": f"{way['id']}{SLOT}{other}",
        "takes": way.get("takes", {}) | {turn: 1},
    }
    if other != FIRST:
        link = {"id": other, "lag": tails[other].run}
        then["after"] = [*way.get("after", ()), link]
    return then


def stores_of(
    activities: Mapping[str, Data], stores: Iterable[StoreFact]
) -> list[Data]:
    """What the ways take from, with how much there is of it.

    A spare that was promised twice by choice stays so and is said; the plan itself
    never takes a piece twice.
    """
    used: dict[str, float] = {}
    for activity in activities.values():
        for way in activity["ways"]:
            for name, amount in way.get("takes", {}).items():
                used.setdefault(name, 0)
                if len(activity["ways"]) == 1:
                    used[name] += amount
    known = {store.id: store for store in stores}
    found = []
    for name in sorted(used):
        store = known.get(name)
        there = store.amount_milli / 1000 if store else 1.0
        if not name.startswith(TURN) and (store is None or store.is_spare):
            there = max(there, used[name])
        found.append({"id": name, "amount": max(0.0, there)})
    return found
