"""Who waits for whom, and a walk that comes to everybody after all they wait for."""

from __future__ import annotations

import random

import networkx

from fabshop.reckoning.readiness.waits import in_order, teardown_before, waits_for
from tests.reckoning.facts_for import component, done, shop, task


def test_finished_and_unknown_tasks_are_not_waited_for():
    facts = shop([done("A"), task("B"), task("C", after="A B gone")])
    assert waits_for(facts) == {"B": (), "C": ("B",)}


def test_a_task_waits_for_the_hold_whose_zone_it_would_close():
    facts = shop(
        [task("H", is_hold=True, reach="loom"), task("A", fits="seat")],
        [component("loom", "seat"), component("seat")],
    )
    assert waits_for(facts) == {"A": ("H",), "H": ()}


def test_a_closed_up_task_of_a_teardown_follows_all_its_open_work():
    weigh = task("Z", in_teardown=True, closed_up=True, after="A")
    tasks = [
        task("A", in_teardown=True),
        task("B", in_teardown=True),
        task("C"),
        task("D", in_teardown=True, build="carrier"),
        task("E", in_teardown=True, closed_up=True),
        weigh,
    ]
    facts = shop(tasks)
    assert teardown_before(weigh, facts) == ("B",)
    assert waits_for(facts)["Z"] == ("A", "B")
    assert teardown_before(task("Y", closed_up=True), facts) == ()


def test_the_tasks_of_a_loop_are_left_out_of_the_walk():
    walk = list(in_order({"A": ("B",), "B": ("A",), "C": (), "D": ("C", "A")}))
    assert walk == ["C"]


def test_the_walk_is_a_topological_order():
    for seed in range(40):
        chance = random.Random(seed)
        names = [f"n{n}" for n in range(chance.randint(1, 15))]
        waits = {
            name: tuple(chance.sample(names[:n], chance.randint(0, min(n, 3))))
            for n, name in enumerate(names)
        }
        walk = list(in_order(waits))
        assert sorted(walk) == sorted(names)
        graph = networkx.DiGraph(
            [(b, a) for a, before in waits.items() for b in before]
        )
        place = {name: n for n, name in enumerate(walk)}
        assert all(place[b] < place[a] for b, a in graph.edges), seed
