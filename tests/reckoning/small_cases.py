"""Random small teardown questions with every field of the format in play."""

from __future__ import annotations

import random
from datetime import datetime, timedelta
from typing import Any


def moment(minute: int) -> str:
    """A time so many minutes into the first evening."""
    start = datetime(2031, 5, 5, 18, 0)
    return (start + timedelta(minutes=minute)).isoformat(timespec="minutes")


def small_case(seed: int) -> dict[str, Any]:
    """One question; the same seed gives the same question."""
    chance = random.Random(seed)
    windows, now = [], 0
    for _ in range(chance.randint(1, 5)):
        now += chance.choice((0, 7, 20, 60))
        length = chance.randint(10, 45)
        windows.append([moment(now), moment(now + length)])
        now += length
    sessions = chance.choice((1, 1, 2, 2, 3))
    # The search tries every order: the more sessions, the fewer steps it can take.
    most = {1: (5, 4), 2: (4, 4), 3: (3, 3)}[sessions]
    places = [f"c{number}" for number in range(chance.randint(1, most[0]))]
    tasks = [f"t{number}" for number in range(chance.randint(2, most[1]))]
    question: dict[str, Any] = {
        "windows": windows,
        "deadline": moment(now + chance.choice((-5, 0, 0, 30, 200))),
        "setup_minutes": chance.choice((0, 0, 3)),
        "max_sessions": sessions,
        "prefer": chance.choice(("early_finish", "late_start")),
        "wait_for": chance.choice(("all", "each")),
        "components": [_place(chance, places, i) for i in range(len(places))],
        "tasks": [_task(chance, places, tasks, i, now) for i in range(len(tasks))],
        "time_limit_s": 60,
    }
    return question


def _some(chance: random.Random, names: list[str], odds: float) -> list[str]:
    return [name for name in names if chance.random() < odds]


def _place(chance: random.Random, places: list[str], index: int) -> dict[str, Any]:
    place: dict[str, Any] = {
        "id": places[index],
        "off": chance.choice((0, 1, 2, 4)),
        "on": chance.choice((0, 1, 3, 5)),
    }
    if chance.random() < 0.65:
        # Mostly what stands before it in the list; now and then a loop.
        over = places[:index] if chance.random() < 0.9 else places
        over = [name for name in over if name != places[index]]
        place["routes"] = [
            _some(chance, over, 0.5) for _ in range(chance.choice((0, 1, 1, 2)))
        ]
    place["state"] = chance.choice(("fitted",) * 6 + ("off", "absent"))
    return place


def _task(
    chance: random.Random, places: list[str], tasks: list[str], index: int, end: int
) -> dict[str, Any]:
    task: dict[str, Any] = {"id": tasks[index], "minutes": chance.randint(1, 14)}
    fields = {
        "reach": _some(chance, places, 0.15),
        "remove": _some(chance, places, 0.2),
        "fits": _some(chance, places, 0.2),
        "keeps_open": _some(chance, places, 0.15),
        "after": _some(chance, tasks[:index], 0.25),
    }
    task |= {name: value for name, value in fields.items() if value}
    if chance.random() < 0.35:
        task["cure"] = chance.choice((3, 10, 25, 70))
    if chance.random() < 0.25:
        task["ready"] = moment(chance.randint(0, max(1, end * 2 // 3)))
    for name, odds in (("for_good", 0.2), ("unbroken", 0.3), ("closed", 0.15)):
        if chance.random() < odds:
            task[name] = True
    if chance.random() < 0.4:
        task["required"] = False
    if chance.random() < 0.5:
        task["points"] = chance.choice((1, 2, 5, -1))
    return task
