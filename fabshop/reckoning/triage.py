"""What each goal brings for the hours that it still takes, over its whole chain."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import floor

from fabshop.reckoning.facts import Facts, FallbackFact, TaskFact
from fabshop.reckoning.hours import factors_of, minutes_left
from fabshop.reckoning.planning.chain import chain_of, followers_of
from fabshop.reckoning.planning.way import factored
from fabshop.reckoning.readiness.rack import lacking_pieces
from fabshop.reckoning.readiness.wants import unfinished, wants


@dataclass(frozen=True)
class PlanB:
    """Another way for a goal. `more_per_hour` is what the final one brings for each
    hour that it takes more; None where it takes none more (then it is simply better
    or worse). `costs_more`: it takes more time than the final one and brings less.
    """

    title: str
    pk: int
    points: int
    minutes: int
    more_per_hour: float | None
    costs_more: bool
    chosen: bool
    takes: tuple[str, ...]


@dataclass(frozen=True)
class Worth:
    """A goal with its unfinished chain.

    `per_hour` is None where something on the chain can never be done: `cannot` says
    what it needs.
    """

    task: str
    title: str
    build: str
    required: bool
    wished: bool
    points: int
    chain: tuple[str, ...]
    minutes: int
    per_hour: float | None
    cannot: str
    plans_b: tuple[PlanB, ...]


def worths(facts: Facts, *, first_guess: bool = False) -> tuple[Worth, ...]:
    """Every unfinished goal, those that bring most for an hour first.

    A goal is a task with points, or with a Plan B. Its hours are those left of it and
    of what is done only on the way to it, by the family's factor, or as first
    guessed.
    """
    followers = followers_of(facts)
    found = [
        _worth(task, facts, followers, first_guess)
        for task in unfinished(facts)
        if task.points or task.fallbacks
    ]
    return tuple(
        sorted(found, key=lambda one: (-(one.per_hour or 0), -one.points, one.task))
    )


def _worth(
    task: TaskFact,
    facts: Facts,
    followers: Mapping[str, tuple[str, ...]],
    first_guess: bool,
) -> Worth:
    chain = chain_of(task, facts, followers)
    names = [*chain, task.id]
    minutes = sum(_minutes(facts.task_by_id[n], facts, first_guess) for n in names)
    cannot = _cannot(names, facts)
    return Worth(
        task=task.id,
        title=task.title,
        build=task.build,
        required=task.required,
        wished=task.wished,
        points=task.points,
        chain=chain,
        minutes=minutes,
        per_hour=None if cannot or not minutes else 60 * task.points / minutes,
        cannot=cannot,
        plans_b=tuple(
            _plan_b(task, way, minutes, facts, first_guess) for way in task.fallbacks
        ),
    )


def _plan_b(
    task: TaskFact, way: FallbackFact, minutes: int, facts: Facts, first_guess: bool
) -> PlanB:
    mine = way.minutes
    if not first_guess:
        mine = factored(way.minutes, task.family, factors_of(facts))
    saved = minutes - mine
    return PlanB(
        title=way.title,
        pk=way.pk,
        points=way.points,
        minutes=mine,
        more_per_hour=60 * (task.points - way.points) / saved if saved > 0 else None,
        costs_more=saved <= 0 and way.points <= task.points,
        chosen=way.chosen,
        takes=tuple(way.uses.split()),
    )


def _minutes(task: TaskFact, facts: Facts, first_guess: bool) -> int:
    if first_guess:
        return task.minutes if task.left is None else task.left
    return minutes_left(task, factors_of(facts))


def _cannot(names: list[str], facts: Facts) -> str:
    """The first thing on the chain of which nobody knows when it comes."""
    wanted, lacking = wants(facts), lacking_pieces(facts)
    for name in names:
        for want in wanted.get(name, ()):
            if want.arrival is None or want.arrival.likely_at is None:
                return f"needs {want.line.partition('/')[0]} for {name}"
        if lacking.get(name):
            return f"the rack is short for {name}"
    return ""


def shown(rate: float) -> str:
    """6.7, and 1.25 where a tenth would hide it."""
    tenths = floor(rate * 10 + 0.5) / 10
    return f"{tenths:g}" if rate >= 2 or abs(tenths - rate) < 0.005 else f"{rate:.2f}"


@dataclass(frozen=True)
class Clash:
    """A spare that more is promised of than there is, by the tasks that take it."""

    spare: str
    tasks: tuple[str, ...]
    pieces: int


def promised_twice(
    facts: Facts, pieces: Mapping[str, int], *, chosen_only: bool = False
) -> tuple[Clash, ...]:
    """The spares that Plan Bs take more of than there are pieces.

    With `chosen_only` of the Plan Bs that are taken; else of all that could be.
    """
    takers: dict[str, list[str]] = {}
    for task in unfinished(facts):
        for way in task.fallbacks:
            if way.chosen or not chosen_only:
                for code in dict.fromkeys(way.uses.split()):
                    takers.setdefault(code, []).append(task.id)
    return tuple(
        Clash(code, tuple(tasks), pieces.get(code, 1))
        for code, tasks in sorted(takers.items())
        if len(tasks) > pieces.get(code, 1)
    )
