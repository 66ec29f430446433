"""What must come off, as the machine stands now, before a task can be begun."""

from __future__ import annotations

from dataclasses import dataclass, field

from fabshop import words
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
    goals = [(name, True) for name in off] + [(name, False) for name in reach]
    search = _Search(facts.component_by_id)
    search.run(goals, {}, (0, 0))
    if search.best is None:
        return Shut(minutes=None)
    names = _outermost_first(search.best)
    parts = [facts.component_by_id[name] for name in names]
    return Shut(
        components=names,
        minutes=sum(part.off_minutes or 0 for part in parts),
        unknown=tuple(part.id for part in parts if part.off_minutes is None),
        for_good=tuple(part.id for part in parts if is_for_good(part)),
    )


@dataclass
class _Search:
    """Tries every choice of routes, the cheapest kept; one route is no choice."""

    places: dict[str, ComponentFact]
    best: dict[str, tuple[str, ...]] | None = None
    cost: tuple[int, int] = field(default=(0, 0))

    def run(
        self,
        goals: list[tuple[str, bool]],
        out: dict[str, tuple[str, ...]],
        cost: tuple[int, int],
    ) -> None:
        """Follow the goals with `out` (each with its route) off already at `cost`."""
        goals, out = list(goals), dict(out)
        while goals:
            if self.best is not None and cost >= self.cost:
                return
            name, must_be_off = goals.pop()
            place = self.places.get(name)
            if place is None or name in out:
                continue
            comes_off = must_be_off and place.is_on
            if comes_off:
                cost = (cost[0] + _price(place), cost[1] + 1)
            routes = [
                tuple(c for c in route if c in self.places and self.places[c].is_on)
                for route in place.routes or ((),)
            ]
            if len(routes) > 1 and () not in routes:
                for route in routes:
                    known = {**out, name: route} if comes_off else out
                    self.run([*goals, *((c, True) for c in route)], known, cost)
                return
            route = () if () in routes else routes[0]
            if comes_off:
                out[name] = route
            goals += [(c, True) for c in route]
        if self.best is None or cost < self.cost:
            self.best, self.cost = out, cost


def _price(place: ComponentFact) -> int:
    return (place.off_minutes or 0) + (_DESTROYED if is_for_good(place) else 0)


def _outermost_first(chosen: dict[str, tuple[str, ...]]) -> tuple[str, ...]:
    """Each component after all that lie over it; where free, in order of code."""
    placed: dict[str, None] = {}
    left = sorted(chosen)
    while left:
        name = next((n for n in left if all(c in placed for c in chosen[n])), left[0])
        placed[name] = None
        left.remove(name)
    return tuple(placed)
