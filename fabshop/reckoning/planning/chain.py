"""What is done only for the sake of one task: the chain that its Plan B makes idle."""

from __future__ import annotations

from collections.abc import Mapping

from fabshop.reckoning.facts import Facts, TaskFact
from fabshop.reckoning.readiness.wants import unfinished


def followers_of(facts: Facts) -> dict[str, tuple[str, ...]]:
    """For each unfinished task the unfinished ones that name it as coming before."""
    found: dict[str, list[str]] = {task.id: [] for task in unfinished(facts)}
    for task in unfinished(facts):
        for name in task.after:
            if name in found:
                found[name].append(task.id)
    return {name: tuple(after) for name, after in found.items()}


def chain_of(
    task: TaskFact, facts: Facts, followers: Mapping[str, tuple[str, ...]] | None = None
) -> tuple[str, ...]:
    """The unfinished tasks upstream that are done only on the way to this one.

    A task that is not a must is on the chain unless a must outside it hangs on it; a
    must is on it only where the task itself is one and nothing else follows; a hold
    never is, nor what has points, for they are done for their own sake. In order of
    code.
    """
    after = followers_of(facts) if followers is None else followers
    upstream = _upstream(task, facts, after)
    chain = set(upstream)
    while True:
        kept = {
            name
            for name in chain
            if _serves_only(facts.task_by_id[name], task, chain, facts, after)
        }
        if kept == chain:
            return tuple(sorted(chain))
        chain = kept


def _upstream(
    task: TaskFact, facts: Facts, after: Mapping[str, tuple[str, ...]]
) -> set[str]:
    found: set[str] = set()
    ahead = [name for name in task.after if name in after]
    while ahead:
        name = ahead.pop()
        if name not in found:
            found.add(name)
            ahead += [n for n in facts.task_by_id[name].after if n in after]
    return found


def _serves_only(
    one: TaskFact,
    task: TaskFact,
    chain: set[str],
    facts: Facts,
    after: Mapping[str, tuple[str, ...]],
) -> bool:
    outside = [n for n in after[one.id] if n not in chain and n != task.id]
    if one.is_hold or one.points:
        return False
    if one.required:
        return task.required and not outside
    return not any(_leads_to_a_must(n, task.id, facts, after) for n in outside)


def _leads_to_a_must(
    name: str, but: str, facts: Facts, after: Mapping[str, tuple[str, ...]]
) -> bool:
    """Whether it is a must, or one comes after it by a way that misses `but`."""
    seen, ahead = set(), [name]
    while ahead:
        one = ahead.pop()
        if one in seen or one == but:
            continue
        seen.add(one)
        if facts.task_by_id[one].required:
            return True
        ahead += after[one]
    return False
