"""How well schedules are planned and proven: rows for the bench.

Beside each public instance stands what a plain CP-SAT model reaches in the same time.
"""

from __future__ import annotations

import csv
import json
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from statistics import mean, median
from typing import Any

from fabshop.console.bench.made_up_shop import shop_question
from fabshop.reckoning.ask import reckon
from fabshop.reckoning.schedule.direct import direct_makespan
from fabshop.reckoning.sure import sure

SHOP = (150, 40)
"""Activities and days of the made-up shops: two people, three machines."""
SHOP_LOADS = (0.8, 1.0, 1.3)
"""Work over hours; above one there is more than can be done."""
SEEDS = 3
FIRST_S = 3.0
"""A first good plan is wanted in this time."""
BEST = "best_known.csv"


@dataclass(frozen=True)
class Reached:
    """A makespan, whether it is proven, and the time it took."""

    makespan: int | None
    is_proven: bool
    seconds: float


def rows(
    rcpsp: str | None,
    jobshop: str | None,
    limit: float,
    shop: tuple[int, int] = SHOP,
    seeds: int = SEEDS,
) -> Iterator[str]:
    """Made-up shops; then public instances, where a folder or a file is given."""
    yield from _shops(limit, shop, seeds)
    if rcpsp is not None:
        yield from _public(project_instances(Path(rcpsp)), limit)
    if jobshop is not None:
        yield from _public(job_shop_instances(Path(jobshop)), limit)


def _shops(limit: float, shop: tuple[int, int], seeds: int) -> Iterator[str]:
    for load in SHOP_LOADS:
        for seed in range(seeds):
            asked = shop_question(*shop, load, seed)
            name = f"shop {shop[0]}/{shop[1]} load {load} no {seed + 1}"
            yield _told(f"{name}, first", {**asked, "time_limit_s": FIRST_S})
            yield _told(name, {**asked, "time_limit_s": limit})
    yield _sure(shop)


def _sure(shop: tuple[int, int]) -> str:
    """How long the runs of one plan take, with every arrival and all work in doubt."""
    asked = {**shop_question(*shop, SHOP_LOADS[0], 0), "time_limit_s": FIRST_S}
    answer = reckon("schedule", asked)
    ids = [one["id"] for one in asked["activities"]]
    spread = {"early": 0.8, "likely": 1.0, "late": 1.6}
    days = [
        {
            "id": one["id"],
            "activities": [one["id"]],
            "early": one["ready"],
            "likely": one["ready"],
            "late": asked["deadline"],
        }
        for one in asked["activities"]
        if "ready" in one
    ]
    began = time.monotonic()
    found = sure(
        {
            "plans": [{"id": "kept", "question": asked, "answer": answer}],
            "arrivals": days,
            "work": [{"id": "all", "activities": ids, **spread}],
            "resource": "me",
        }
    )
    seconds = time.monotonic() - began
    name = f"how sure, {len(ids) + len(days)} doubts"
    return (
        f"{name:<34} {seconds:7.2f} s for {found['runs']} runs, "
        f"chance {found['plans'][0]['chance']:.2f}"
    )


def _told(name: str, asked: dict[str, Any]) -> str:
    began = time.monotonic()
    answer = reckon("schedule", asked)
    seconds = time.monotonic() - began
    gap = answer.get("gap")
    left = f"{gap['aim']}: {gap['reached']} of {gap['bound']}" if gap else ""
    required = {one["id"] for one in asked["activities"] if one["required"]}
    done = {row["id"] for row in answer["activities"]}
    return (
        f"{name:<34} {seconds:7.2f} s  {answer['status']:<9} "
        f"{len(required & done)} required, {answer['points']} points, "
        f"{len(done)} in all, over {answer['finish']}  {left}"
    ).rstrip()


Instance = tuple[str, int | None, dict[str, Any]]
"""Its name, the best makespan known, and the question."""


def _public(found: list[Instance], limit: float) -> Iterator[str]:
    ours: list[tuple[int | None, Reached]] = []
    plain: list[tuple[int | None, Reached]] = []
    for name, best, question in found:
        asked = {**question, "time_limit_s": limit}
        ours.append((best, _ours(asked)))
        direct = direct_makespan(asked, limit)
        plain.append(
            (
                best,
                Reached(direct.makespan, direct.is_proven, direct.seconds),
            )
        )
        yield (
            f"{name:<20} best known {best}: {_one(ours[-1][1])}; "
            f"plain model {_one(plain[-1][1])}"
        )
    if found:
        yield f"{'all, ours':<20} {_whole(ours)}"
        yield f"{'all, plain model':<20} {_whole(plain)}"


def _ours(asked: dict[str, Any]) -> Reached:
    began = time.monotonic()
    answer = reckon("schedule", asked)
    seconds = time.monotonic() - began
    makespan = answer["makespan_minutes"]
    is_proven = answer["status"] == "optimal"
    return Reached(makespan, is_proven, seconds)


def _one(reached: Reached) -> str:
    proven = "proven" if reached.is_proven else "found"
    return f"{reached.makespan} {proven} in {reached.seconds:.2f} s"


def _whole(found: list[tuple[int | None, Reached]]) -> str:
    proven = sum(reached.is_proven for _, reached in found)
    over = [
        100 * (reached.makespan / best - 1)
        for best, reached in found
        if best and reached.makespan is not None
    ]
    none = sum(reached.makespan is None for _, reached in found)
    return (
        f"{proven} of {len(found)} proven, "
        f"{mean(over) if over else 0:.2f} % over the best known on average, "
        f"median {median(reached.seconds for _, reached in found):.2f} s"
        + (f", {none} without a plan" if none else "")
    )


def project_instances(folder: Path) -> list[Instance]:
    """Every `.sm` file of a folder; the best known from a table beside them."""
    best: dict[str, int] = {}
    table = folder / BEST
    if table.exists():
        with table.open() as lines:
            best = {
                row["instance"]: int(row["best_known"]) for row in csv.DictReader(lines)
            }
    return [
        (path.stem, best.get(path.name), project_question(path.read_text()))
        for path in sorted(folder.glob("*.sm"))
    ]


def project_question(text: str) -> dict[str, Any]:
    """A project as the standard text tells it: one renewable way for each job."""
    lines = text.splitlines()
    jobs = next(int(x.split(":")[1]) for x in lines if x.startswith("jobs"))
    followers = _numbers(lines, "PRECEDENCE RELATIONS", 2, jobs)
    work = _numbers(lines, "REQUESTS/DURATIONS", 3, jobs)
    (there_is,) = _numbers(lines, "RESOURCEAVAILABILITIES", 2, 1)
    after: dict[int, list[int]] = {row[0]: [] for row in work}
    for job, _, _, *later in followers:
        for one in later:
            after[one].append(job)
    return {
        "origin": "2031-01-01T00:00",
        "resources": [
            {"id": f"R{n + 1}", "capacity": units} for n, units in enumerate(there_is)
        ],
        "activities": [
            {
                "id": str(job),
                "ways": [_way(minutes, {f"R{n + 1}": u for n, u in enumerate(units)})],
                "after": [{"id": str(one)} for one in after[job]],
            }
            for job, _, minutes, *units in work
        ],
    }


def _numbers(lines: list[str], heading: str, below: int, count: int) -> list[list[int]]:
    first = next(n for n, line in enumerate(lines) if line.startswith(heading)) + below
    return [[int(word) for word in line.split()] for line in lines[first:][:count]]


def _way(minutes: int, uses: dict[str, int]) -> dict[str, Any]:
    return {"id": "main", "minutes": minutes, "uses": uses}


def job_shop_instances(file: Path) -> list[Instance]:
    """The job shops of a JSON file: durations and machines, job by job."""
    return [
        (name, told.get("metadata", {}).get("optimum"), job_shop_question(told))
        for name, told in json.loads(file.read_text()).items()
    ]


def job_shop_question(told: dict[str, Any]) -> dict[str, Any]:
    """Every machine is there once; each job goes from machine to machine."""
    jobs = list(zip(told["duration_matrix"], told["machines_matrix"], strict=True))
    machines = sorted({machine for _, row in jobs for machine in row})
    return {
        "origin": "2031-01-01T00:00",
        "resources": [{"id": f"m{machine}"} for machine in machines],
        "activities": [
            {
                "id": f"{job}.{step}",
                "ways": [_way(minutes, {f"m{machine}": 1})],
                "after": [{"id": f"{job}.{step - 1}"}] if step else [],
            }
            for job, (durations, row) in enumerate(jobs)
            for step, (minutes, machine) in enumerate(zip(durations, row, strict=True))
        ],
    }
