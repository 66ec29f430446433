"""Made-up schedule questions of a shop's size, the same for the same seed."""

from __future__ import annotations

import random
from datetime import datetime, timedelta
from typing import Any

_FIRST_DAY = datetime(2031, 5, 5)
_SATURDAY = 5


def shop_question(activities: int, days: int, load: float, seed: int) -> dict[str, Any]:
    """Evenings and Saturdays, a helper every third day, three machines without hours.

    `load` is the work of the builder over the hours there are.
    """
    chance = random.Random(f"shop {activities} {days} {load} {seed}")
    mine = _windows(days, 3)
    helps = [
        window for number, window in enumerate(_windows(days, 2)) if not number % 3
    ]
    minutes = sum((end - start) // timedelta(minutes=1) for start, end in mine)
    mean = load * minutes / (0.75 * activities)
    return {
        "origin": _told(_FIRST_DAY),
        "deadline": _told(_FIRST_DAY + timedelta(days=days)),
        "resources": [
            {"id": "me", "windows": _all_told(mine)},
            {"id": "helper", "windows": _all_told(helps)},
            *({"id": machine} for machine in ("printer", "oven", "mill")),
        ],
        "activities": [
            _activity(chance, number, mean, days) for number in range(activities)
        ],
    }


def _windows(days: int, hours: int) -> list[tuple[datetime, datetime]]:
    found = []
    for day in range(days):
        midnight = _FIRST_DAY + timedelta(days=day)
        is_long = day % 7 == _SATURDAY
        start = midnight + timedelta(hours=9 if is_long else 19)
        found.append((start, start + timedelta(hours=8 if is_long else hours)))
    return found


def _activity(
    chance: random.Random, number: int, mean: float, days: int
) -> dict[str, Any]:
    minutes = max(5, round(chance.expovariate(1 / mean) / 5) * 5)
    is_required = chance.random() < 0.6
    points = 0 if is_required else chance.choice([0, 1, 2, 3, 5, 8])
    activity: dict[str, Any] = {
        "id": f"a{number}",
        "required": is_required,
        "ways": _ways(chance, minutes, points),
    }
    if number > 3:
        activity["after"] = [
            {
                "id": f"a{chance.randrange(max(0, number - 25), number)}",
                "lag": chance.choice([0, 0, 0, 0, 240, 720]),
            }
            for _ in range(chance.choice([0, 1, 1, 2]))
        ]
    if chance.random() < 0.2:
        day = _FIRST_DAY + timedelta(days=chance.randint(0, days * 2 // 3), hours=17)
        activity["ready"] = _told(day)
    return activity


def _ways(chance: random.Random, minutes: int, points: int) -> list[dict[str, Any]]:
    kind = chance.random()
    if kind < 0.15:
        machine = chance.choice(["printer", "oven"])
        return [_way("run", chance.randint(60, 900), [machine], points)]
    if kind < 0.25:
        return [_way("main", minutes, ["me", "mill"], points)]
    if kind < 0.35:
        by_helper = _way("helper", minutes * 3 // 2, ["helper"], points)
        return [_way("main", minutes, ["me"], points), by_helper]
    if kind < 0.4:
        return [_way("both", minutes, ["me", "helper"], points)]
    ways = [_way("main", minutes, ["me"], points)]
    if chance.random() < 0.25:
        ways.append(_way("plan-b", max(5, minutes // 3), ["me"], 0))
    return ways


def _way(name: str, minutes: int, uses: list[str], points: int) -> dict[str, Any]:
    used = dict.fromkeys(uses, 1)
    return {"id": name, "minutes": minutes, "uses": used, "points": points}


def _all_told(windows: list[tuple[datetime, datetime]]) -> list[list[str]]:
    return [[_told(start), _told(end)] for start, end in windows]


def _told(moment: datetime) -> str:
    return moment.isoformat(timespec="minutes")
