"""A kept plan told from its own data: what is done when, in which way, and in hand."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import cached_property
from typing import Any

from fabshop.reckoning.facts import Span
from fabshop.reckoning.planning.question import CURED, ME
from fabshop.reckoning.planning.way import BY, FINAL, LEFT, base_of
from fabshop.reckoning.window import Bench

Data = dict[str, Any]


@dataclass(frozen=True)
class Row:
    """One stretch of work in the plan, or handling of a teardown.

    `by` is who does it: "" the owner at the bench, "somebody in" outside bench hours,
    or a helper's name. `run_ends` is when the machine it sets going is done.
    """

    id: str
    task: str
    title: str
    way: str
    start: datetime
    finish: datetime
    latest_finish: datetime
    minutes: int
    by: str = ""
    build: str = ""
    do: str = "task"
    parts: tuple[str, ...] = ()
    machine: str = ""
    run_ends: datetime | None = None
    cured: datetime | None = None
    session: str = ""

    @property
    def is_task(self) -> bool:
        return self.do == "task"

    @property
    def is_plan_b(self) -> bool:
        return self.way not in (FINAL, LEFT)


class Story:
    """The plan as people read it. Moments are on the clock of the day it was made."""

    def __init__(self, question: Data, answer: Data, beside: Data) -> None:
        self.question, self.answer, self.beside = question, answer, beside
        self.asked = {one["id"]: one for one in question.get("activities", ())}
        self.done = {row["id"]: row for row in answer.get("activities", ())}

    @cached_property
    def bench(self) -> Bench:
        mine = next(
            (r for r in self.question.get("resources", ()) if r["id"] == ME), None
        )
        spans = [Span(_at(a), _at(b)) for a, b in (mine["windows"] if mine else ())]
        return Bench(spans, self.origin)

    @property
    def origin(self) -> datetime:
        return _at(self.question["origin"])

    @property
    def deadline(self) -> datetime | None:
        return _at(self.question["deadline"]) if "deadline" in self.question else None

    @property
    def finish(self) -> datetime | None:
        return _at(self.answer["finish"]) if self.answer.get("finish") else None

    @property
    def points(self) -> int:
        return int(self.answer.get("points", 0))

    @cached_property
    def most_points(self) -> int:
        return sum(
            max(0, max(w["points"] for w in task["ways"].values()))
            for task in self.beside.get("tasks", {}).values()
        )

    @cached_property
    def hours_minutes(self) -> int:
        """The bench minutes there are from the plan's beginning to the deadline."""
        return (
            self.bench.minutes_until(self.deadline)
            if self.deadline
            else self.bench.minutes
        )

    @cached_property
    def worked_minutes(self) -> int:
        """The bench minutes that the plan uses."""
        return sum(row.minutes for row in self.rows if not row.by)

    @property
    def in_hand_minutes(self) -> int | None:
        """Bench minutes between the last of the work and the deadline."""
        if self.deadline is None or self.finish is None:
            return None
        return self.bench.minutes_until(self.deadline) - self.bench.minutes_until(
            self.finish
        )

    @cached_property
    def missing(self) -> tuple[str, ...]:
        """The musts that are left out, by task or handling."""
        spared = {
            name
            for row in self.done.values()
            for name in self._way(row).get("spares", ())
        }
        return tuple(
            name
            for name, one in self.asked.items()
            if one.get("required", True)
            and name not in self.done
            and name not in spared
        )

    @cached_property
    def rows(self) -> tuple[Row, ...]:
        """All the work, in the order of its starts; cures and parcels are none."""
        found = []
        owner = {
            stretch: task
            for task, stretches in self.beside.get("stretches", {}).items()
            for stretch in stretches
        }
        blocks = self.beside.get("blocks", {})
        in_session = {
            name: session["build"]
            for session in self.beside.get("sessions", ())
            for name in session["tasks"]
        }
        for name, row in self.done.items():
            if name in blocks:
                found.append(self._handling(name, row, blocks[name]))
            elif name in owner:
                found.append(self._work(name, row, owner[name], in_session))
        return tuple(sorted(found, key=lambda one: (one.start, one.finish)))

    @cached_property
    def way_of(self) -> dict[str, str]:
        """By task the way that the plan takes; "" where it leaves it out."""
        return {
            task: base_of(self.done[task]["way"]) if task in self.done else ""
            for task in self.beside.get("tasks", {})
        }

    @cached_property
    def starts(self) -> dict[str, datetime]:
        """When each task begins."""
        return {row.task: row.start for row in reversed(self.rows) if row.is_task}

    @cached_property
    def latest_starts(self) -> dict[str, datetime]:
        """The last moment at which each can begin with all else as planned."""
        found = {}
        for row in reversed(self.rows):
            if row.is_task:
                found[row.task] = self.latest_start_of(row)
        return found

    @cached_property
    def needed(self) -> dict[str, tuple[datetime, str]]:
        """For each line waited for, when the plan needs it at the latest, and where.

        Only the lines that a chosen way waits for are needed.
        """
        found: dict[str, tuple[datetime, str]] = {}
        for row in self.rows:
            way = self._way(self.done[row.id])
            links = [*self.asked[row.id].get("after", ()), *way.get("after", ())]
            by = self.latest_start_of(row)
            for link in links:
                name = link["id"]
                if name in self.beside.get("lines", {}) and (
                    name not in found or by < found[name][0]
                ):
                    found[name] = (by, row.task or row.id)
        return found

    def first_rows(self, count: int) -> Iterable[Row]:
        return [row for row in self.rows if row.minutes][:count]

    def _way(self, row: Data) -> Data:
        ways: list[Data] = self.asked[row["id"]]["ways"]
        return next(way for way in ways if way["id"] == row["way"])

    def latest_start_of(self, row: Row) -> datetime:
        spare = row.latest_finish - row.finish
        if not row.by and row.minutes:
            latest = self.bench.latest_start(row.latest_finish, row.minutes)
            if latest is not None:
                return max(latest, row.start)
        return row.start + max(spare, timedelta())

    def _handling(self, name: str, row: Data, block: Data) -> Row:
        many = f"{len(block['ids'])} places" if len(block["ids"]) > 1 else "one place"
        title = f"Off: {many}" if block["do"] == "remove" else f"Back on: {many}"
        return Row(
            id=name,
            task="",
            title=title,
            way=row["way"],
            start=_at(row["start"]),
            finish=_at(row["finish"]),
            latest_finish=_at(row["latest_finish"]),
            minutes=block["minutes"],
            build=block["build"],
            do=block["do"],
            parts=tuple(block["ids"]),
            session=block["build"],
        )

    def _work(self, name: str, row: Data, task: str, in_session: dict[str, str]) -> Row:
        about = self.beside["tasks"][task]
        way = base_of(row["way"])
        finish = _at(row["finish"])
        tail = self.beside["tails"].get(name) if way == FINAL else None
        run_ends = cured = None
        if tail and tail["run"]:
            run_ends = finish + timedelta(minutes=tail["run"])
        if tail and tail["cure"]:
            cured = (run_ends or finish) + timedelta(minutes=tail["cure"])
        by = row["way"].partition(BY)[2].partition(" after ")[0]
        title = about["title"]
        told = about["ways"].get(way, {}).get("title", "")
        if way not in (FINAL, LEFT) and told:
            title = told
        return Row(
            id=name,
            task=task,
            title=title,
            way=way,
            start=_at(row["start"]),
            finish=finish,
            latest_finish=_at(row["latest_finish"]),
            minutes=int(self._way(row)["minutes"]),
            by=by,
            build=about["build"],
            machine=tail["machine"] if tail else "",
            run_ends=run_ends,
            cured=cured,
            session=in_session.get(task, ""),
        )


def is_cure(name: str) -> bool:
    return name.endswith(CURED)


def _at(text: str) -> datetime:
    return datetime.fromisoformat(text)
