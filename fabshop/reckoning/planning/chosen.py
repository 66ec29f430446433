"""The shop as it goes on from what was chosen: a Plan B taken, a goal given up."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from fabshop import words
from fabshop.reckoning.facts import Facts, FallbackFact, StageFact, TaskFact
from fabshop.reckoning.planning.chain import chain_of, followers_of
from fabshop.reckoning.planning.way import LEFT, PLAN_B, plan_b_id


def as_chosen(facts: Facts) -> Facts:
    """The facts with every chosen Plan B in place of the final way.

    Such a task wants what its Plan B wants: its minutes, no parts, no cure, and nothing
    of the chain that led to the final one. What led only to it, and to nothing else
    that is still to be had, is given up with it. A Plan B of no minutes asks for
    no work: the task is as good as done, at its points.
    """
    taken = {
        task.id: way
        for task in facts.tasks
        if not task.is_finished
        for way in task.fallbacks
        if way.chosen
    }
    given_up = {
        task.id for task in facts.tasks if task.state is words.TaskState.GIVEN_UP
    }
    if not taken and not given_up:
        return facts
    followers = followers_of(facts)
    chains = {
        name: chain_of(facts.task_by_id[name], facts, followers) for name in taken
    }
    tasks = [
        _by_plan_b(task, taken[task.id], chains[task.id]) if task.id in taken else task
        for task in facts.tasks
    ]
    return _without_idle(replace(facts, tasks=tuple(tasks)), facts)


def with_ways(facts: Facts, ways: Mapping[str, str]) -> Facts:
    """The shop as it would go on if these ways had been chosen, by task."""
    if not ways:
        return facts
    tasks = []
    for task in facts.tasks:
        way = ways.get(task.id, "")
        if way == LEFT:
            task = replace(task, state=words.TaskState.GIVEN_UP)
        elif way.startswith(PLAN_B):
            fallbacks = tuple(
                replace(one, chosen=plan_b_id(number) == way)
                for number, one in enumerate(task.fallbacks)
            )
            task = replace(task, fallbacks=fallbacks)
        tasks.append(task)
    return as_chosen(replace(facts, tasks=tuple(tasks)))


def _by_plan_b(task: TaskFact, way: FallbackFact, chain: tuple[str, ...]) -> TaskFact:
    stages = (StageFact(words.StageKind.HANDS_ON, way.minutes),) if way.minutes else ()
    nothing = not way.minutes
    return replace(
        task,
        state=words.TaskState.DONE if nothing else task.state,
        title=f"{task.title} ({way.title[:1].lower()}{way.title[1:]})",
        minutes=way.minutes,
        stages=stages,
        after=tuple(name for name in task.after if name not in chain),
        needs=(),
        points=way.points,
        fallbacks=tuple(one for one in task.fallbacks if one.chosen),
        wished=False,
    )


def _without_idle(then: Facts, before: Facts) -> Facts:
    """Gives up what led only to something that nobody is going to do any more."""
    was, now = followers_of(before), followers_of(then)
    idle: set[str] = set()
    while True:
        more = {
            task.id
            for task in then.tasks
            if task.id not in idle and _is_idle(task, then, was, now, idle)
        }
        if not more:
            break
        idle |= more
    given_up = words.TaskState.GIVEN_UP
    return replace(
        then,
        tasks=tuple(
            replace(task, state=given_up) if task.id in idle else task
            for task in then.tasks
        ),
    )


def _is_idle(
    task: TaskFact,
    then: Facts,
    was: Mapping[str, tuple[str, ...]],
    now: Mapping[str, tuple[str, ...]],
    idle: set[str],
) -> bool:
    """Not a must, worth nothing itself, and led to something, but no longer."""
    if task.is_finished or task.required or task.points or task.is_hold:
        return False
    led = set(was.get(task.id, ())) | {
        other.id
        for other in then.tasks
        if task.id in other.after and other.state is words.TaskState.GIVEN_UP
    }
    return bool(led) and not set(now.get(task.id, ())) - idle
