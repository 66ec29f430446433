"""Scheduling instances as published, and their proven optima."""

from __future__ import annotations

from typing import Any

J301_1_SUCCESSORS = """
1:2,3,4 2:6,11,15 3:7,8,13 4:5,9,10 5:20 6:30 7:27 8:12,19,27 9:14 10:16,25 11:20,26
12:14 13:17,18 14:17 15:25 16:21,22 17:22 18:20,22 19:24,29 20:23,25 21:28 22:23 23:24
24:30 25:30 26:31 27:28 28:31 29:32 30:32 31:32
"""
J301_1_WORK = """
1:0,0,0,0,0 2:8,4,0,0,0 3:4,10,0,0,0 4:6,0,0,0,3 5:3,3,0,0,0 6:8,0,0,0,8 7:5,4,0,0,0
8:9,0,1,0,0 9:2,6,0,0,0 10:7,0,0,0,1 11:9,0,5,0,0 12:2,0,7,0,0 13:6,4,0,0,0
14:3,0,8,0,0 15:9,3,0,0,0 16:10,0,0,0,5 17:6,0,0,0,8 18:5,0,0,0,7 19:3,0,1,0,0
20:7,0,10,0,0 21:2,0,0,0,6 22:7,2,0,0,0 23:2,3,0,0,0 24:3,0,9,0,0 25:3,4,0,0,0
26:7,0,0,4,0 27:8,0,0,0,7 28:3,0,8,0,0 29:7,0,7,0,0 30:2,0,7,0,0 31:2,0,0,2,0
32:0,0,0,0,0
"""
"""Duration, then the use of R1 to R4."""
J301_1_CAPACITIES = (12, 13, 4, 12)
J301_1_OPTIMUM = 43
J301_1_LONGEST_CHAIN = 38
"""Kolisch and Sprecher, PSPLIB, EJOR 96 (1997) 205-216; optimum proven there."""

FT06 = """
2 1 0 3 1 6 3 7 5 3 4 6 / 1 8 2 5 4 10 5 10 0 10 3 4 / 2 5 3 4 5 8 0 9 1 1 4 7 /
1 5 0 5 2 5 3 3 4 8 5 9 / 2 9 1 3 4 5 5 4 0 3 3 1 / 1 3 3 3 5 9 0 10 4 4 2 1
"""
FT06_OPTIMUM = 55
"""Fisher and Thompson 1963; machine and duration, job by job."""

LA01 = """
1 21 0 53 4 95 3 55 2 34 / 0 21 3 52 4 16 2 26 1 71 / 3 39 4 98 1 42 2 31 0 12 /
1 77 0 55 4 79 2 66 3 77 / 0 83 3 34 2 64 1 19 4 37 / 1 54 2 43 4 79 0 92 3 62 /
3 69 4 77 1 87 2 87 0 93 / 2 38 0 60 1 41 3 24 4 83 / 3 17 1 49 4 25 0 44 2 98 /
4 77 3 79 2 43 1 75 0 96
"""
LA01_OPTIMUM = 666
"""Lawrence 1984."""


def project(
    successors: str, work: str, capacities: tuple[int, ...], limit_s: float = 20
) -> dict[str, Any]:
    """A resource-constrained project as a schedule question."""
    after: dict[str, list[dict[str, str]]] = {}
    for row in successors.split():
        before, _, names = row.partition(":")
        for name in names.split(","):
            after.setdefault(name, []).append({"id": before})
    activities = []
    for row in work.split():
        name, _, numbers = row.partition(":")
        minutes, *units = (int(number) for number in numbers.split(","))
        uses = {f"R{n + 1}": used for n, used in enumerate(units) if used}
        ways = [{"id": "main", "minutes": minutes, "uses": uses}]
        activities.append({"id": name, "ways": ways, "after": after.get(name, [])})
    return {
        "origin": "2031-01-01T00:00",
        "resources": [
            {"id": f"R{n + 1}", "capacity": units} for n, units in enumerate(capacities)
        ],
        "activities": activities,
        "time_limit_s": limit_s,
    }


def job_shop(rows: str, limit_s: float = 20) -> dict[str, Any]:
    """A job shop as a schedule question: each machine is there once."""
    activities = []
    machines = set()
    for job, row in enumerate(rows.split("/")):
        numbers = [int(number) for number in row.split()]
        for step in range(len(numbers) // 2):
            machine, minutes = numbers[2 * step : 2 * step + 2]
            machines.add(machine)
            ways = [{"id": "main", "minutes": minutes, "uses": {f"m{machine}": 1}}]
            after = [{"id": f"{job}.{step - 1}"}] if step else []
            activities.append({"id": f"{job}.{step}", "ways": ways, "after": after})
    return {
        "origin": "2031-01-01T00:00",
        "resources": [{"id": f"m{machine}"} for machine in sorted(machines)],
        "activities": activities,
        "time_limit_s": limit_s,
    }
