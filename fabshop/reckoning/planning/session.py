"""A teardown's sessions as work of the plan: its steps in their order, and cures."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Any


@dataclass(frozen=True)
class Block:
    """Steps of one kind that follow each other: handling, or a single task.

    `waits` names the tasks of the session whose cure must be over before it.
    """

    id: str
    build: str
    session: int
    do: str
    ids: tuple[str, ...]
    minutes: int
    waits: tuple[str, ...] = ()

    @property
    def is_task(self) -> bool:
        return self.do == "task"


@dataclass(frozen=True)
class Teardown:
    """How the teardown of one build was asked: as its accepted plan, or by default."""

    build: str
    tasks: tuple[str, ...] | None = None
    wait_for: str = "all"
    max_sessions: int = 1
    prefer: str = "late_start"
    known: Sequence[Sequence[tuple[str, str]]] = ()
    edition: str = ""


@dataclass(frozen=True)
class Session:
    """The teardown of one build as it was ordered, with what it took for granted.

    `ways` says for each of its tasks in which way it was asked.
    """

    build: str
    question: dict[str, Any]
    answer: dict[str, Any]
    ways: dict[str, str] = field(default_factory=dict)
    edition: str = ""

    @property
    def tasks(self) -> tuple[str, ...]:
        return tuple(block.ids[0] for block in self.blocks() if block.is_task)

    def blocks(self) -> tuple[Block, ...]:
        """The steps, handling that follows each other taken together.

        What goes back on, is fitted or comes after waits for the cures that say so.
        """
        tasks = {row["id"]: row for row in self.question.get("tasks", ())}
        found: list[Block] = []
        curing: list[str] = []
        for number, session in enumerate(self.answer.get("sessions", ()), start=1):
            for step in session["steps"]:
                waits = tuple(
                    name for name in curing if _binds(tasks[name], step, tasks)
                )
                block = Block(
                    id=f"{self.build}/{len(found) + 1}",
                    build=self.build,
                    session=number,
                    do=step["do"],
                    ids=(step["id"],),
                    minutes=step["minutes"],
                    waits=waits,
                )
                found = _joined(found, block)
                if step["do"] == "task" and tasks[step["id"]].get("cure"):
                    curing.append(step["id"])
        return tuple(found)


def _binds(cures: dict[str, Any], step: dict[str, Any], tasks: dict[str, Any]) -> bool:
    kept = set(cures.get("keeps_open", ()))
    if step["do"] == "refit":
        return step["id"] in kept
    if step["do"] != "task":
        return False
    asked = tasks[step["id"]]
    return (
        cures["id"] in asked.get("after", ())
        or not kept.isdisjoint(asked.get("fits", ()))
        or bool(asked.get("closed"))
    )


def _joined(found: list[Block], block: Block) -> list[Block]:
    if block.is_task:
        return [
            *found,
            Block(
                block.ids[0],
                block.build,
                block.session,
                block.do,
                block.ids,
                block.minutes,
                block.waits,
            ),
        ]
    last = found[-1] if found else None
    alike = last and (last.do, last.session) == (block.do, block.session)
    # A block waits as a whole: what waits for a cure begins a block of its own.
    if last is None or not alike or set(block.waits) - set(last.waits):
        return [*found, block]
    return [
        *found[:-1],
        Block(
            last.id,
            last.build,
            last.session,
            last.do,
            (*last.ids, *block.ids),
            last.minutes + block.minutes,
            last.waits,
        ),
    ]
