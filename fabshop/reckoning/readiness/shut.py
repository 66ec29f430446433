"""What must come off, as the machine stands now, before a task can be begun."""

from __future__ import annotations

from dataclasses import dataclass

from fabshop import words
from fabshop.reckoning.access import Cover, removals_to_reach
from fabshop.reckoning.facts import ComponentFact, Facts, TaskFact

# More than any handling: a way that destroys nothing is taken before one that does.
_DESTROYED = 1_000_000


@dataclass(frozen=True)
class Shut:
    """The components in the order they come off; `minutes` is None where there is no
    way in, `unknown` names those whose minutes nobody has noted (counted as nothing),
    `for_good` those that only come off by being destroyed.
    """

    components: tuple[str, ...] = ()
    minutes: int | None = 0
    unknown: tuple[str, ...] = ()
    for_good: tuple[str, ...] = ()


def shut_in(task: TaskFact, facts: Facts) -> Shut:
    """What must come off now for this task: least minutes, outermost first.

    What it reaches must have a route open; what it removes or fits must be off, and
    have a route open besides. Where none of these is said, what it opens must be
    reachable.
    """
    off = (*task.remove, *task.fits)
    reach = task.reach or (() if off else task.opens)
    return _least(facts, tuple(dict.fromkeys(off)), tuple(dict.fromkeys(reach)))


def is_for_good(component: ComponentFact) -> bool:
    """Whether what sits there is bonded or welded: off only by destroying it."""
    return component.for_good and component.state is words.ComponentState.FINAL


def _least(facts: Facts, off: tuple[str, ...], reach: tuple[str, ...]) -> Shut:
    covers = _in_the_way(facts, (*off, *reach))
    removals = removals_to_reach(
        covers,
        [name for name in (*off, *reach) if name in covers],
        remove=[name for name in off if name in covers],
    )
    if not removals.is_possible:
        return Shut(minutes=None)
    parts = [facts.component_by_id[name] for name in removals.order]
    return Shut(
        components=removals.order,
        minutes=sum(part.off_minutes or 0 for part in parts),
        unknown=tuple(part.id for part in parts if part.off_minutes is None),
        for_good=tuple(part.id for part in parts if is_for_good(part)),
    )


def _in_the_way(facts: Facts, names: tuple[str, ...]) -> dict[str, Cover]:
    """These components and all that lies over them by any route, in order of code."""
    found: dict[str, Cover] = {}
    ahead = list(names)
    while ahead:
        part = facts.component_by_id.get(ahead.pop())
        if part is None or part.id in found:
            continue
        found[part.id] = Cover(
            id=part.id,
            minutes=_price(part),
            routes=tuple(
                tuple(name for name in route if name in facts.component_by_id)
                for route in part.routes
            ),
            is_off=not part.is_on,
        )
        ahead += [name for route in part.routes for name in route]
    return {name: found[name] for name in sorted(found)}


def _price(part: ComponentFact) -> int:
    return (part.off_minutes or 0) + (_DESTROYED if is_for_good(part) else 0)
