"""What comes off a build in its planned teardown, before anybody has planned it."""

from __future__ import annotations

from fabshop.reckoning.access import Cover, removals_to_reach
from fabshop.reckoning.batching.batch import default_tasks
from fabshop.reckoning.facts import ComponentFact, Facts


def comes_off(facts: Facts, build: str) -> tuple[ComponentFact, ...]:
    """The parts that all tasks of the teardown together want off, in their order.

    What a task swaps comes off as well as what lies over it. Nothing where the covers
    go round in a circle.
    """
    here = {part.id: part for part in facts.components if part.build == build}
    tasks = [facts.task_by_id[name] for name in default_tasks(facts, build)]
    swapped = {
        name
        for task in tasks
        for name in (*task.fits, *task.remove)
        if name in here and here[name].is_on
    }
    reached = {
        name
        for task in tasks
        for name in (*task.fits, *task.reach, *task.opens)
        if name in here and name not in swapped
    }
    covers = {
        part.id: Cover(part.id, part.off_minutes or 0, part.routes, not part.is_on)
        for part in here.values()
    }
    found = removals_to_reach(covers, sorted(reached), remove=sorted(swapped))
    return tuple(here[name] for name in found.order)
