"""How quickly teardown questions are planned and proven: rows for the bench."""

from __future__ import annotations

import json
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

from fabshop.console.bench.made_up import teardown_question
from fabshop.reckoning.ask import reckon

SIZES = ((61, 15, 1, 12), (150, 60, 2, 10), (300, 120, 3, 3))
"""Components, tasks, sessions, and how many questions of that size."""
PROVEN_SESSIONS = {
    10: {36: 5, 43: 5, 47: 4, 72: 3},
    22: {19: 14, 25: 10, 38: 7, 61: 5},
}
"""Of the open disassembly graphs, by tasks and minutes a session: fewest sessions."""


class Row(NamedTuple):
    """One line of the bench."""

    question: str
    seconds: float
    status: str
    reached: str
    gap: str

    def __str__(self) -> str:
        return (
            f"{self.question:<34} {self.seconds:7.2f} s  {self.status:<9} "
            f"{self.reached}  {self.gap}"
        ).rstrip()


def rows(
    folder: str | None,
    limit: float,
    sizes: tuple[tuple[int, int, int, int], ...] = SIZES,
) -> Iterator[Row]:
    """Made-up questions of each size; then the graphs, where a folder is given.

    `limit` is the time limit of each question in seconds.
    """
    for components, tasks, sessions, count in sizes:
        for seed in range(count):
            asked = teardown_question(components, tasks, sessions, seed)
            name = f"{components}/{tasks}/{sessions} no {seed + 1}"
            yield _row(name, {**asked, "time_limit_s": limit})
    if folder is not None:
        yield from _graphs(Path(folder), limit)


def _row(name: str, asked: dict[str, Any]) -> Row:
    seconds, answer = _timed(asked)
    totals, gap = answer["totals"], answer.get("gap")
    return Row(
        name,
        seconds,
        answer["status"],
        f"{totals['required']} required, {totals['points']} points, "
        f"{totals['others']} others, {totals['handling_minutes']} min",
        f"{gap['aim']}: {gap['reached']} of {gap['bound']}" if gap else "",
    )


def _timed(asked: dict[str, Any]) -> tuple[float, dict[str, Any]]:
    began = time.monotonic()
    answer = reckon("teardown", asked)
    return time.monotonic() - began, answer


def _graphs(folder: Path, limit: float) -> Iterator[Row]:
    """Each graph in its proven fewest sessions, and in one less, which cannot do."""
    found = json.loads((folder / "and_or_instances.json").read_text())
    for name, graph in found.items():
        for minutes, fewest in PROVEN_SESSIONS.get(graph["n"], {}).items():
            for evenings in (fewest, fewest - 1):
                for sessions in (evenings, 1):
                    asked = graph_question(graph, minutes, evenings, sessions)
                    yield _graph_row(
                        f"{name[:8]} CT {minutes}, {evenings} evenings, {sessions}",
                        {**asked, "time_limit_s": limit},
                        fits=evenings == fewest,
                    )


def _graph_row(name: str, asked: dict[str, Any], *, fits: bool) -> Row:
    """Whether the parts get into the evenings, and whether that is proven."""
    seconds, answer = _timed(asked)
    total, reached = len(asked["tasks"]), answer["totals"]["required"]
    gap = answer.get("gap")
    # The tasks are the first aim: a gap in a later one leaves them proven.
    bound = gap["bound"] if gap and gap["aim"] == "required" else reached
    if reached == total:
        told = "as published" if fits else "BETTER THAN PROVEN"
    elif bound < total:
        told = "CONTRADICTS" if fits else "as published: it cannot be all"
    else:
        told = "not found" if fits else f"not proven, at most {bound}"
    return Row(name, seconds, answer["status"], f"{reached} of {total}", told)


def graph_question(
    graph: dict[str, Any], minutes: int, evenings: int, sessions: int = 1
) -> dict[str, Any]:
    """A disassembly graph as a teardown: taken apart backwards, it is an assembly.

    What must be gone before a part can be taken is still to be put on when the part
    is. Each evening is one window of so many minutes, and nothing is suspended over
    its end. The published sessions cost nothing to begin or end, and so do ours: no
    set-up, and nothing comes off that would have to go back on. With as many sessions
    as evenings, then, or with one that goes on through all of them, the question is
    whether the work gets into so many stretches of so many minutes: the published one.
    """
    parts = range(1, graph["n"] + 1)
    both = {int(part): list(over) for part, over in graph["and_pred"].items()}
    either = {int(part): list(over) for part, over in graph["or_pred"].items()}
    components = []
    for part in parts:
        routes = [
            [f"part-{over}" for over in both.get(part, [])]
            + ([f"part-{one}"] if one else [])
            for one in either.get(part, [0])
        ]
        components.append(
            {
                "id": f"part-{part}",
                "off": 0,
                "on": 0,
                "routes": routes,
                "state": "absent",
            }
        )
    days = [f"2031-{5 + day // 28:02}-{1 + day % 28:02}" for day in range(evenings)]
    hours, rest = divmod(18 * 60 + minutes, 60)
    windows = [[f"{day}T18:00", f"{day}T{hours:02}:{rest:02}"] for day in days]
    return {
        "windows": windows,
        "deadline": windows[-1][1],
        "max_sessions": sessions,
        "components": components,
        "tasks": [
            {
                "id": f"task-{part}",
                "minutes": graph["time"][part - 1],
                "fits": [f"part-{part}"],
                "unbroken": True,
            }
            for part in parts
        ],
    }
