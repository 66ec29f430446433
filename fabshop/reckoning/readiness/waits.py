"""What each unfinished task waits for among the others, and a walk through them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from fabshop.reckoning.facts import Facts, TaskFact
from fabshop.reckoning.readiness.hold import holds_over
from fabshop.reckoning.readiness.wants import unfinished


def teardown_before(task: TaskFact, facts: Facts) -> tuple[str, ...]:
    """The open work of the planned teardown that a closed-up task of it follows.

    Weighing or a shakedown that belongs to the teardown waits for all of its work
    on the opened machine, whether or not each piece of it was named.
    """
    if not (task.closed_up and task.in_teardown):
        return ()
    return tuple(
        other.id
        for other in unfinished(facts)
        if other.in_teardown
        and not other.closed_up
        and other.build == task.build
        and other.id not in task.after
    )


def waits_for(facts: Facts) -> dict[str, tuple[str, ...]]:
    """For each unfinished task the unfinished ones that must be done before it.

    These are the tasks it comes after, the holds whose zone it would close, and for
    a closed-up task of a teardown all the open work of that teardown.
    """
    held = holds_over(facts)
    open_tasks = {task.id for task in unfinished(facts)}
    return {
        task.id: tuple(
            dict.fromkeys(
                name
                for name in (
                    *task.after,
                    *held.get(task.id, ()),
                    *teardown_before(task, facts),
                )
                if name in open_tasks
            )
        )
        for task in unfinished(facts)
    }


def in_order(waits: Mapping[str, tuple[str, ...]]) -> Iterator[str]:
    """Every task after all that it waits for; tasks of a loop are left out."""
    waiting = {task: set(before) for task, before in waits.items()}
    followers: dict[str, list[str]] = {}
    for task, before in waits.items():
        for name in before:
            followers.setdefault(name, []).append(task)
    ready = sorted(task for task, before in waiting.items() if not before)
    while ready:
        task = ready.pop()
        yield task
        for follower in followers.get(task, ()):
            waiting[follower].discard(task)
            if not waiting[follower]:
                ready.append(follower)
