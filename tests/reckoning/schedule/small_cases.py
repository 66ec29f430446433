"""Small random schedule questions with every field of the format in play."""

from __future__ import annotations

import random
from datetime import datetime, timedelta
from typing import Any

ORIGIN = datetime(2031, 5, 5, 6)


def small_case(seed: int, most: int = 4) -> dict[str, Any]:
    """A question small enough to try out every plan there is."""
    chance = random.Random(f"small schedule {seed}")
    count = chance.randint(1, most)
    horizon = chance.randint(8, 30)
    resources = [
        _resource(chance, name, horizon) for name in ("me", "you", "mill", "oven")
    ]
    resources = chance.sample(resources, chance.randint(1, 4))
    names = [one["id"] for one in resources]
    activities = [_activity(chance, n, count, names, horizon) for n in range(count)]
    question: dict[str, Any] = {
        "origin": moment(0),
        "resources": resources,
        "stores": [{"id": "resin", "amount": chance.choice([0, 1, 2.5, 4])}],
        "activities": activities,
        "time_limit_s": 20,
    }
    if chance.random() < 0.7:
        question["deadline"] = moment(chance.randint(1, horizon))
    return question


def moment(minute: int) -> str:
    return (ORIGIN + timedelta(minutes=minute)).isoformat(timespec="minutes")


def _resource(chance: random.Random, name: str, horizon: int) -> dict[str, Any]:
    resource: dict[str, Any] = {"id": name, "capacity": chance.choice([1, 1, 1, 2, 0])}
    if chance.random() < (0.8 if name in ("me", "you") else 0.2):
        windows = []
        at = chance.randint(-4, 4)
        while at < horizon:
            end = at + chance.randint(1, 7)
            windows.append([moment(at), moment(end)])
            at = end + chance.choice([0, 1, 2, 3, 6])
        resource["windows"] = windows
    return resource


def _activity(
    chance: random.Random, n: int, count: int, names: list[str], horizon: int
) -> dict[str, Any]:
    others = [f"w{k}" for k in range(count) if k != n]
    ways = [
        _way(chance, k, names, others) for k in range(chance.choice([1, 1, 2, 2, 3]))
    ]
    activity: dict[str, Any] = {
        "id": f"w{n}",
        "ways": ways,
        "required": chance.random() < 0.6,
        "unbroken": chance.random() < 0.25,
        "after": [
            {"id": f"w{k}", "lag": chance.choice([0, 0, 1, 5])}
            for k in range(n)
            if chance.random() < 0.3
        ],
    }
    if chance.random() < 0.15:
        activity["pinned"] = chance.choice(ways)["id"]
    if chance.random() < 0.25:
        activity["ready"] = moment(chance.randint(-2, horizon // 2))
    if chance.random() < 0.2:
        activity["due"] = moment(chance.randint(0, horizon))
    return activity


def _way(
    chance: random.Random, k: int, names: list[str], others: list[str]
) -> dict[str, Any]:
    way: dict[str, Any] = {
        "id": f"v{k}",
        "minutes": chance.choice([0, 1, 2, 3, 4, 6, 8]),
        "uses": {
            name: chance.choice([0, 1, 1, 1, 2])
            for name in names
            if chance.random() < 0.5
        },
        "points": chance.choice([0, 0, 1, 2, 5, -1]),
    }
    if chance.random() < 0.3:
        way["takes"] = {"resin": chance.choice([0, 0.5, 1, 2])}
    if others and chance.random() < 0.2:
        way["after"] = [{"id": chance.choice(others), "lag": chance.choice([0, 2])}]
    if others and chance.random() < 0.3:
        way["spares"] = chance.sample(others, chance.randint(1, min(2, len(others))))
    return way
