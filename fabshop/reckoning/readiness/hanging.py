"""What hangs on each line that has not come: tasks, hours, points and the teardown."""

from __future__ import annotations

from dataclasses import dataclass

from fabshop.reckoning.arrivals import arrivals
from fabshop.reckoning.facts import Facts
from fabshop.reckoning.hours import factors_of, minutes_left
from fabshop.reckoning.readiness.wants import unfinished, wants


@dataclass(frozen=True)
class Hanging:
    """What cannot be done before one line is here.

    `tasks` want it themselves, `following` come after those; `minutes` (factored)
    and `points` are of both; `teardown`: one of them is work of a planned teardown on
    the opened machine.
    """

    line: str
    tasks: tuple[str, ...] = ()
    following: tuple[str, ...] = ()
    minutes: int = 0
    points: int = 0
    teardown: bool = False


def hangs_on(facts: Facts) -> dict[str, Hanging]:
    """What hangs on each line that is owed; a line for nothing has no tasks."""
    factors = factors_of(facts)
    wanting: dict[str, list[str]] = {line: [] for line in arrivals(facts)}
    for task, lacking in wants(facts).items():
        for want in lacking:
            wanting.setdefault(want.line, []).append(task)
    followers = _followers(facts)
    found = {}
    for line, direct in wanting.items():
        following = _all_after(direct, followers)
        tasks = [facts.task_by_id[name] for name in (*direct, *following)]
        found[line] = Hanging(
            line=line,
            tasks=tuple(sorted(direct)),
            following=following,
            minutes=sum(minutes_left(task, factors) for task in tasks),
            points=sum(task.points for task in tasks),
            teardown=any(t.in_teardown and not t.closed_up for t in tasks),
        )
    return found


def _followers(facts: Facts) -> dict[str, list[str]]:
    followers: dict[str, list[str]] = {}
    for task in unfinished(facts):
        for name in task.after:
            followers.setdefault(name, []).append(task.id)
    return followers


def _all_after(tasks: list[str], followers: dict[str, list[str]]) -> tuple[str, ...]:
    seen, ahead = set(tasks), list(tasks)
    while ahead:
        for name in followers.get(ahead.pop(), ()):
            if name not in seen:
                seen.add(name)
                ahead.append(name)
    return tuple(sorted(seen - set(tasks)))
