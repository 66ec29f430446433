"""What must come off, against a plain search through every set and networkx."""

from __future__ import annotations

import random
from itertools import combinations

import networkx as nx
import pytest

from fabshop.errors import NotFound
from fabshop.reckoning.access import Cover, loops, removals_to_reach

CABLE = {
    "lid": Cover("lid", 4),
    "skirt": Cover("skirt", 3),
    "skid": Cover("skid", 2),
    "deck": Cover("deck", 6, (("lid",), ("skirt", "skid"))),
    "pack": Cover("pack", 1, (("deck",),)),
}


def test_reaching_a_place_takes_off_what_lies_over_it_and_leaves_it_on() -> None:
    found = removals_to_reach(CABLE, ["pack"])
    assert (found.order, found.minutes) == (("lid", "deck"), 10)


def test_removing_a_place_takes_it_off_last() -> None:
    found = removals_to_reach(CABLE, [], remove=["pack"])
    assert (found.order, found.minutes) == (("lid", "deck", "pack"), 11)


def test_the_cheaper_of_two_routes_is_taken() -> None:
    heavy = {**CABLE, "lid": Cover("lid", 9)}
    found = removals_to_reach(heavy, ["pack"])
    assert (found.order, found.minutes) == (("skirt", "skid", "deck"), 11)


def test_a_route_shared_with_another_goal_can_be_the_cheaper_one() -> None:
    heavy = {**CABLE, "lid": Cover("lid", 5)}
    found = removals_to_reach(heavy, ["deck"], remove=["skid"])
    assert (found.order, found.minutes) == (("skirt", "skid"), 5)


def test_what_is_off_now_costs_nothing_and_hides_nothing_behind_it() -> None:
    half_open = {**CABLE, "deck": Cover("deck", 6, (("lid",),), is_off=True)}
    assert removals_to_reach(half_open, ["pack"], remove=["deck"]).order == ()


def test_nothing_to_do_is_nothing_to_take_off() -> None:
    assert removals_to_reach(CABLE, []).order == ()


def test_a_loop_is_named_in_words() -> None:
    ring = {
        "dash": Cover("dash", 1, (("cowl",),)),
        "cowl": Cover("cowl", 1, (("roof",),)),
        "roof": Cover("roof", 1, (("cowl",),)),
    }
    found = removals_to_reach(ring, ["dash"])
    assert not found.is_possible
    assert str(found.loop) == "cowl lies under roof, which lies under cowl"
    assert [str(loop) for loop in loops(ring)] == [str(found.loop)]


def test_a_loop_with_another_way_in_is_no_loop() -> None:
    ring = {
        "cowl": Cover("cowl", 1, (("roof",), ())),
        "roof": Cover("roof", 1, (("cowl",),)),
    }
    assert removals_to_reach(ring, [], remove=["roof"]).order == ("cowl", "roof")
    assert loops(ring) == []


def test_routes_that_only_seem_to_open_each_other_are_not_taken() -> None:
    ring = {
        "a": Cover("a", 1, (("b",), ("heavy",))),
        "b": Cover("b", 1, (("a",), ("heavy",))),
        "heavy": Cover("heavy", 50),
    }
    found = removals_to_reach(ring, [], remove=["a", "b"])
    assert (found.order[0], found.minutes) == ("heavy", 52)


def test_an_unknown_component_is_named() -> None:
    with pytest.raises(NotFound, match="no component 'lamp'"):
        removals_to_reach(CABLE, ["lamp"])


def test_a_deep_machine_with_one_route_each_is_quick_and_complete() -> None:
    tower = {f"p{n}": Cover(f"p{n}", 1, ((f"p{n - 1}",),)) for n in range(1, 900)}
    tower["p0"] = Cover("p0", 1)
    assert removals_to_reach(tower, ["p899"]).minutes == 899


def test_too_many_routes_still_find_a_way_and_say_it_may_not_be_the_least() -> None:
    chance = random.Random(4)
    maze = {f"p{n}": Cover(f"p{n}", 3) for n in range(3)}
    for n in range(3, 300):
        routes = tuple((f"p{over}",) for over in chance.sample(range(n), 3))
        maze[f"p{n}"] = Cover(f"p{n}", chance.randint(1, 9), routes)
    found = removals_to_reach(maze, [], remove=[f"p{n}" for n in range(200, 300, 5)])
    assert found.is_possible
    assert _is_orderly(maze, found.order)


@pytest.mark.parametrize("seed", range(150))
def test_the_closure_and_its_order_agree_with_networkx(seed: int) -> None:
    chance = random.Random(seed)
    names = [f"p{n}" for n in range(chance.randint(1, 25))]
    over = {
        name: tuple(chance.sample(names[:n], min(n, chance.randint(0, 3))))
        for n, name in enumerate(names)
    }
    listed = chance.sample(names, len(names))
    covers = {name: Cover(name, chance.randint(0, 9), (over[name],)) for name in listed}
    goals = chance.sample(names, min(3, len(names)))
    graph = nx.DiGraph()
    graph.add_nodes_from(names)
    graph.add_edges_from((c, name) for name in names for c in over[name])
    wanted = set(goals).union(*(nx.ancestors(graph, goal) for goal in goals))
    found = removals_to_reach(covers, [], remove=goals)
    assert set(found.order) == wanted
    assert len(found.order) == len(set(found.order))
    assert found.minutes == sum(covers[name].minutes for name in wanted)
    place = {name: number for number, name in enumerate(found.order)}
    for above, below in graph.subgraph(wanted).edges:
        assert place[above] < place[below]
    # One teardown for all goals never costs more than one for each.
    alone = [removals_to_reach(covers, [], remove=[goal]) for goal in goals]
    shares = sum(map(len, (a.order for a in alone))) > len(found.order)
    apart = sum(a.minutes for a in alone)
    assert found.minutes <= apart
    assert shares or found.minutes == apart


@pytest.mark.parametrize("seed", range(150))
def test_loops_are_found_where_networkx_finds_them(seed: int) -> None:
    chance = random.Random(seed)
    names = [f"p{n}" for n in range(chance.randint(2, 9))]
    covers = {
        name: Cover(
            name, 1, (tuple(chance.sample([n for n in names if n != name], 1)),)
        )
        if chance.random() < 0.7
        else Cover(name, 1)
        for name in names
    }
    graph = nx.DiGraph()
    graph.add_nodes_from(names)
    graph.add_edges_from(
        (name, above) for name in names for route in covers[name].routes
        for above in route
    )  # fmt: skip
    theirs = {frozenset(cycle) for cycle in nx.simple_cycles(graph)}
    assert {frozenset(loop.ids) for loop in loops(covers)} == theirs


@pytest.mark.parametrize("seed", range(200))
def test_the_least_minutes_agree_with_every_set_tried(seed: int) -> None:
    chance = random.Random(seed)
    names = [f"p{n}" for n in range(chance.randint(2, 7))]
    covers = {}
    for name in names:
        others = [n for n in names if n != name]
        routes = tuple(
            tuple(chance.sample(others, min(len(others), chance.randint(0, 3))))
            for _ in range(chance.choice((0, 1, 1, 2, 3)))
        )
        is_off = chance.random() < 0.15
        covers[name] = Cover(name, chance.randint(0, 9), routes, is_off)
    reach = chance.sample(names, chance.randint(0, 2))
    remove = chance.sample(names, chance.randint(0, 2))
    costs = [
        sum(covers[name].minutes for name in some)
        for count in range(len(names) + 1)
        for some in combinations([n for n in names if not covers[n].is_off], count)
        if _does(covers, set(some), reach, remove)
    ]
    found = removals_to_reach(covers, reach, remove)
    assert found.is_possible == bool(costs)
    if costs:
        assert found.minutes == min(costs)
        assert _does(covers, set(found.order), reach, remove)
        assert _is_orderly(covers, found.order)


def _open(cover: Cover, off: set[str]) -> bool:
    return not cover.routes or any(off.issuperset(route) for route in cover.routes)


def _off_at_first(covers: dict[str, Cover]) -> set[str]:
    return {name for name, cover in covers.items() if cover.is_off}


def _does(
    covers: dict[str, Cover], some: set[str], reach: list[str], remove: list[str]
) -> bool:
    off, left = _off_at_first(covers), set(some)
    while ready := {name for name in left if _open(covers[name], off)}:
        off |= ready
        left -= ready
    return (
        not left
        and off.issuperset(remove)
        and all(_open(covers[name], off) for name in reach)
    )


def _is_orderly(covers: dict[str, Cover], order: tuple[str, ...]) -> bool:
    off = _off_at_first(covers)
    for name in order:
        if not _open(covers[name], off):
            return False
        off.add(name)
    return True
