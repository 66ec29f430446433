"""Made-up teardown questions of any size, the same for the same seed."""

from __future__ import annotations

import random
from datetime import datetime, timedelta
from typing import Any

_FIRST_DAY = datetime(2031, 5, 5)
_SHARE_OF_THE_WORK = 0.8
"""How much of all tasks and handling the windows have room for: choosing is the job."""


def teardown_question(
    components: int, tasks: int, sessions: int, seed: int
) -> dict[str, Any]:
    """A machine in layers, with more work in it than fits before the deadline."""
    chance = random.Random(f"{components} {tasks} {sessions} {seed}")
    places = [_place(chance, number) for number in range(components)]
    jobs = [_task(chance, components, number) for number in range(tasks)]
    work = sum(job["minutes"] for job in jobs)
    handling = sum(place["off"] + place["on"] for place in places)
    room = int(_SHARE_OF_THE_WORK * (work + handling * min(1.0, tasks / components)))
    windows = _evenings(room)
    days = len(windows)
    for job in jobs:
        if chance.random() < 0.3:
            day = chance.randint(0, max(0, days * 2 // 3))
            job["ready"] = _moment(day, 18 * 60)
    return {
        "windows": windows,
        "deadline": windows[-1][1],
        "setup_minutes": 15,
        "max_sessions": sessions,
        "wait_for": chance.choice(("all", "each")),
        "prefer": "early_finish",
        "components": places,
        "tasks": jobs,
    }


def _moment(day: int, minute: int) -> str:
    at = _FIRST_DAY + timedelta(days=day, minutes=minute)
    return at.isoformat(timespec="minutes")


def _evenings(room: int) -> list[list[str]]:
    """Evenings of three hours, Saturdays of eight, until there is room enough."""
    windows: list[list[str]] = []
    day = 0
    while room > 0:
        begins, lasts = (9 * 60, 480) if day % 7 == 5 else (19 * 60, 180)
        lasts = min(lasts, max(room, 30))
        windows.append([_moment(day, begins), _moment(day, begins + lasts)])
        room -= lasts
        day += 1
    return windows


def _place(chance: random.Random, number: int) -> dict[str, Any]:
    off = chance.randint(1, 15)
    place: dict[str, Any] = {
        "id": f"component-{number}",
        "off": off,
        "on": off + chance.randint(0, off),
    }
    if number > 3 and chance.random() < 0.75:
        over = range(max(0, number - 25), number)
        place["routes"] = [
            [f"component-{n}" for n in chance.sample(over, chance.choice((1, 1, 2)))]
            for _ in range(2 if chance.random() < 0.15 else 1)
        ]
    place["state"] = chance.choice(("fitted",) * 18 + ("off", "absent"))
    return place


def _task(chance: random.Random, components: int, number: int) -> dict[str, Any]:
    def some(most: int) -> list[str]:
        count = min(components, chance.randint(1, most))
        return [f"component-{n}" for n in chance.sample(range(components), count)]

    closed = chance.random() < 0.03
    task: dict[str, Any] = {
        "id": f"task-{number}",
        "minutes": chance.randint(10, 120),
        "required": chance.random() < 0.5,
        "points": chance.choice((0, 0, 1, 2, 3, 5, 8)),
    }
    if chance.random() < 0.2 and not closed:
        task["cure"] = chance.choice((60, 240, 600, 720))
        task["keeps_open"] = some(2)
    if number and chance.random() < 0.25:
        task["after"] = [f"task-{chance.randrange(number)}"]
    if chance.random() < 0.2:
        task["unbroken"] = True
    if closed:
        task["closed"] = True
    else:
        task[chance.choice(("reach", "remove", "fits"))] = some(2)
    return task
