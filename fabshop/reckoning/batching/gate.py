"""What a teardown waits for from outside: order lines, and other tasks."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import datetime

from fabshop import words
from fabshop.reckoning.facts import BuildFact, Facts, TaskFact
from fabshop.reckoning.readiness.free import Moments
from fabshop.reckoning.readiness.hold import kept_open
from fabshop.reckoning.readiness.reasons import Outlook
from fabshop.units import show_moment


@dataclass(frozen=True)
class Gate:
    """One order line that a task of the teardown needs.

    `through` names the task outside the teardown that uses it first, where it is not
    the task itself. The moments are None where it is in hand, or nobody knows.
    """

    line: str
    task: str
    likely_at: datetime | None
    late_at: datetime | None
    in_hand: bool
    through: str = ""


@dataclass(frozen=True)
class Wait:
    """A task of the teardown comes after one outside it, done at `done_at` at best."""

    task: str
    on: str
    done_at: datetime | None
    binds: bool


def waits_outside(
    tasks: Mapping[str, TaskFact],
    build: BuildFact,
    outlook: Outlook,
    moments: Moments,
    *,
    wait_for_all: bool,
) -> tuple[Wait, ...]:
    """The unfinished tasks outside the teardown that its tasks come after.

    `binds` says whether the task waits for it in the plan. One of another build, or
    shared, that cannot be dated or comes too late does not hold the teardown up; nor
    does any hold up a closed-up task where the session waits for all.
    """
    facts = outlook.facts
    found = []
    for task in tasks.values():
        for name in dict.fromkeys((*task.after, *outlook.holds.get(task.id, ()))):
            outside = facts.task_by_id.get(name)
            if outside is None or name in tasks:
                continue
            failed = outside.hold is words.HoldVerdict.FAILED
            if outside.is_finished and not failed:
                continue
            done_at = None if failed else moments.done_at.get(name)
            too_late = build.pack_out and (not done_at or done_at >= build.pack_out)
            binds = outside.build == build.id or not too_late
            if task.closed_up and wait_for_all:
                binds = False
            found.append(Wait(task.id, name, done_at, binds))
    return tuple(found)


def gates_of(tasks: Mapping[str, TaskFact], outlook: Outlook) -> tuple[Gate, ...]:
    """The lines that the teardown's tasks need, in hand or not.

    With them the lines still wanted by the tasks outside that those come after; not
    for a closed-up task, which begins when the machine is whole again.
    """
    facts = outlook.facts
    found: dict[tuple[str, str], Gate] = {}
    for task in tasks.values():
        for need in task.needs:
            if need.name in facts.line_by_id:
                found[need.name, task.id] = Gate(
                    need.name, task.id, None, None, in_hand=True
                )
        chain = [task.id]
        if not task.closed_up:
            outside = _outside_before(task, tasks, facts)
            chain += sorted(outside & set(outlook.wants))
        for name in chain:
            for want in outlook.wants.get(name, ()):
                found[want.line, task.id] = Gate(
                    want.line,
                    task.id,
                    want.arrival.likely_at if want.arrival else None,
                    want.arrival.late_at if want.arrival else None,
                    in_hand=False,
                    through="" if name == task.id else name,
                )
    return tuple(found[key] for key in sorted(found))


def _outside_before(
    task: TaskFact, tasks: Mapping[str, TaskFact], facts: Facts
) -> set[str]:
    """What comes before it outside the teardown, not by way of its other tasks."""
    found: set[str] = set()
    ahead = list(task.after)
    while ahead:
        name = ahead.pop()
        outside = facts.task_by_id.get(name)
        if outside and name not in tasks and name not in found:
            found.add(name)
            ahead += outside.after
    return found


def cure_notes(facts: Facts, parts: Collection[str]) -> list[str]:
    """What done tasks that still cure keep open, of these components."""
    notes = []
    for task in sorted(facts.tasks, key=lambda one: one.id):
        kept = [name for name in kept_open(task, facts) if name in parts]
        cures = task.is_finished and task.cured_at and task.cured_at > facts.now
        if kept and cures and task.cured_at:
            until = show_moment(task.cured_at)
            notes.append(
                f"{task.id} cures until {until}: {' '.join(kept)} must stay off"
            )
    return notes


def wait_note(wait: Wait, facts: Facts) -> str:
    """One wait in words, with what it means for the plan."""
    outside = facts.task_by_id[wait.on]
    what = f"{wait.task} comes after {outside.id} {outside.title}"
    when = (
        f"done {show_moment(wait.done_at)} at the earliest"
        if wait.done_at
        else "nobody knows when it is done"
    )
    if wait.binds:
        return f"{what}: {when}"
    return f"{what}: {when}; it does not hold this teardown up"
