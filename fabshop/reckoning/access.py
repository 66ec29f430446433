"""What must come off to reach a place: least minutes, outermost first.

covers = {"lid": Cover("lid", 4), "deck": Cover("deck", 6, (("lid",),))}
removals_to_reach(covers, ["deck"]).order == ("lid",)
removals_to_reach(covers, [], remove=["deck"]).order == ("lid", "deck")
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from fabshop.errors import NotFound

Route = tuple[str, ...]
MOST_WORK = 60_000
"""Components looked at over all choices of route before the best so far is taken."""


@dataclass(frozen=True, slots=True)
class Cover:
    """A component: what taking it off costs, and what must be off to reach it.

    One whole route is enough; none, or an empty one, means reachable as it stands.
    What `is_off` (off already, or not made yet) is in nobody's way.
    """

    id: str
    minutes: int = 0
    routes: tuple[Route, ...] = ()
    is_off: bool = False


@dataclass(frozen=True, slots=True)
class AccessLoop:
    """Components each of which waits for the next, the first again at the end."""

    ids: tuple[str, ...]

    def __str__(self) -> str:
        if len(self.ids) < 2:
            return ""
        return f"{self.ids[0]} lies under " + ", which lies under ".join(self.ids[1:])


@dataclass(frozen=True, slots=True)
class Removals:
    """What comes off, in order; with a `loop` there is no way in at all."""

    order: tuple[str, ...] = ()
    minutes: int = 0
    loop: AccessLoop | None = None
    is_least: bool = True
    """False where the search was cut short: a way in, perhaps not the cheapest."""

    @property
    def is_possible(self) -> bool:
        return self.loop is None


def removals_to_reach(
    covers: Mapping[str, Cover], reach: Iterable[str], remove: Iterable[str] = ()
) -> Removals:
    """The cheapest removals that open a way to `reach` and take off `remove`.

    Exact: the choice of routes is searched through, except where each component has
    one route, which is followed; `is_least` says where that was too much. What is
    off already costs nothing.
    """
    reach, remove = tuple(reach), tuple(remove)
    for name in (*reach, *remove):
        if name not in covers:
            raise NotFound(f"no component {name!r}")
    openable = _openable(covers)
    for name in reach:
        if not _open_routes(covers[name], openable):
            return Removals(loop=_loop_from(covers, openable, name))
    for name in remove:
        if name not in openable:
            return Removals(loop=_loop_from(covers, openable, name))
    search = _Search(covers, openable)
    order = _outermost_first(covers, search.cheapest(reach, remove))
    is_least = search.work < MOST_WORK
    minutes = sum(covers[name].minutes for name in order)
    return Removals(order, minutes, is_least=is_least)


def loops(covers: Mapping[str, Cover]) -> list[AccessLoop]:
    """Every loop that leaves some component unreachable for ever, each once."""
    openable = _openable(covers)
    found: dict[frozenset[str], AccessLoop] = {}
    for name, cover in covers.items():
        if not _open_routes(cover, openable):
            loop = _loop_from(covers, openable, name)
            found.setdefault(frozenset(loop.ids), loop)
    return list(found.values())


def _openable(covers: Mapping[str, Cover]) -> set[str]:
    """What is off, or can come off by some route."""
    off = {name for name, cover in covers.items() if cover.is_off}
    routes = {name: cover.routes or ((),) for name, cover in covers.items()}
    return off.union(_in_turn(routes, off, [n for n in covers if n not in off]))


def _in_turn(
    routes: Mapping[str, Iterable[Iterable[str]]], gone: set[str], wanted: list[str]
) -> list[str]:
    """Those of `wanted` that can come off with `gone` off, each when a route is open.

    In rounds, and in a round as they are listed.
    """
    place = {name: number for number, name in enumerate(wanted)}
    waits: dict[str, list[tuple[str, int]]] = {}
    missing: dict[tuple[str, int], int] = {}
    ready = []
    for name in wanted:
        ways = [[c for c in set(way) if c not in gone] for way in routes[name]]
        if not all(ways):
            ready.append(name)
            continue
        for number, way in enumerate(ways):
            missing[name, number] = len(way)
            for over in way:
                waits.setdefault(over, []).append((name, number))
    order: list[str] = []
    found = set(ready)
    while ready:
        order += ready
        freed = []
        for over in ready:
            for name, number in waits.get(over, ()):
                missing[name, number] -= 1
                if not missing[name, number] and name not in found:
                    found.add(name)
                    freed.append(name)
        ready = sorted(freed, key=lambda name: place[name])
    return order


def _open_routes(cover: Cover, off: set[str]) -> list[Route]:
    """The routes that these leave open; an empty one where nothing is in the way."""
    return [route for route in cover.routes or ((),) if off.issuperset(route)]


def _loop_from(
    covers: Mapping[str, Cover], openable: set[str], name: str
) -> AccessLoop:
    """Follows what is in the way until it comes round."""
    way = [name]
    while True:
        route = covers[way[-1]].routes[0]
        blocked = next(c for c in route if c not in openable)
        if blocked in way:
            return AccessLoop((*way[way.index(blocked) :], blocked))
        way.append(blocked)


def _outermost_first(covers: Mapping[str, Cover], off: set[str]) -> tuple[str, ...]:
    """Each component after one whole route to it; where free, as they are listed."""
    gone = {name for name, cover in covers.items() if cover.is_off}
    routes = {name: covers[name].routes or ((),) for name in off}
    return tuple(_in_turn(routes, gone, [name for name in covers if name in off]))


@dataclass
class _Search:
    """Branches over routes, the likeliest first; bounded by the best found so far."""

    covers: Mapping[str, Cover]
    openable: set[str]
    best: set[str] | None = None
    cost: tuple[int, int] = (0, 0)
    work: int = 0
    routes: dict[str, list[frozenset[str]]] = field(default_factory=dict)
    least: dict[str, int] = field(default_factory=dict)
    seen: set[tuple[frozenset[str], frozenset[str]]] = field(default_factory=set)

    def cheapest(self, reach: Iterable[str], remove: Iterable[str]) -> set[str]:
        """The cheapest set that can come off in some order and does what is asked."""
        self.routes = {name: self._worth_taking(name) for name in self.covers}
        self._least_costs()
        off = {name for name in remove if not self.covers[name].is_off}
        # What lies off already may be taken away whatever lies over its place.
        self._run(off, [*off, *reach])
        assert self.best is not None, "every goal has an open route"
        return self.best

    def _worth_taking(self, name: str) -> list[frozenset[str]]:
        """The routes without what is off already, none that holds another whole."""
        ways = [
            frozenset(c for c in route if not self.covers[c].is_off)
            for route in _open_routes(self.covers[name], self.openable)
        ]
        return [
            way
            for number, way in enumerate(ways)
            if way not in ways[:number] and not any(other < way for other in ways)
        ]

    def _least_costs(self) -> None:
        """About what each component costs: itself and the dearest thing over it."""
        self.least = {name: self.covers[name].minutes for name in self.openable}
        names = [name for name in self.covers if name in self.openable]
        for name in _in_turn(self.routes, set(), names):
            ways = [
                max((self.least[c] for c in way), default=0)
                for way in self.routes[name]
            ]
            self.least[name] += min(ways, default=0)

    def _run(self, off: set[str], goals: list[str]) -> None:
        off, goals = set(off), list(goals)
        while goals:
            name = goals.pop()
            ways = self.routes[name]
            if len(ways) == 1:
                goals += sorted(ways[0] - off)
                off |= ways[0]
                continue
            # A route that is off already settles it only where it can come off first.
            if any(way <= off for way in ways) and self._can_come_off(off):
                continue
            key = frozenset(off), frozenset([*goals, name])
            spent = self.best is not None and self.work >= MOST_WORK
            if key in self.seen or spent or self._is_hopeless(off):
                return
            self.seen.add(key)
            self.work += len(off)
            for way in sorted(ways, key=lambda way: self._price(way - off)):
                self._run(off | way, [*goals, *sorted(way - off)])
            return
        cost = sum(self.covers[name].minutes for name in off), len(off)
        if (self.best is None or cost < self.cost) and self._can_come_off(off):
            self.best, self.cost = off, cost

    def _price(self, way: frozenset[str]) -> tuple[int, int, list[str]]:
        return sum(self.least[c] for c in way), len(way), sorted(way)

    def _is_hopeless(self, off: set[str]) -> bool:
        spent = sum(self.covers[name].minutes for name in off)
        return self.best is not None and (spent, len(off)) >= self.cost

    def _can_come_off(self, off: set[str]) -> bool:
        return len(_in_turn(self.routes, set(), sorted(off))) == len(off)
