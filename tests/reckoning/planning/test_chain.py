"""What is done only for the sake of one task."""

from __future__ import annotations

from fabshop.reckoning.planning.chain import chain_of, followers_of
from tests.reckoning.facts_for import shop, task


def chain(name, *tasks):
    facts = shop(tasks=tasks)
    return chain_of(facts.task_by_id[name], facts)


def test_what_leads_to_nothing_else_is_on_the_chain():
    tasks = [
        task("mould", required=False),
        task("lay", after="mould", required=False),
        task("nose", after="lay", points=12),
    ]
    assert chain("nose", *tasks) == ("lay", "mould")


def test_what_a_must_hangs_on_is_not():
    tasks = [
        task("hoop", required=False),
        task("cab", after="hoop", points=14),
        task("winch", after="hoop"),
    ]
    assert chain("cab", *tasks) == ()


def test_what_another_goal_may_want_too_still_is():
    tasks = [
        task("paint", required=False),
        task("cab", after="paint", points=14),
        task("window", after="paint", points=3, required=False),
    ]
    assert chain("cab", *tasks) == ("paint",)


def test_a_must_is_on_the_chain_of_a_must_alone_and_a_hold_on_none():
    tasks = [
        task("hold", is_hold=True),
        task("loom", after="hold"),
        task("lay", after="loom"),
    ]
    assert chain("lay", *tasks) == ("loom",)
    optional = [*tasks[:2], task("lay", after="loom", required=False, points=2)]
    assert chain("lay", *optional) == ()


def test_a_goal_is_done_for_its_own_points():
    tasks = [
        task("dash", required=False, points=4),
        task("cowl", after="dash", required=False, points=3),
    ]
    assert chain("cowl", *tasks) == ()


def test_followers_are_those_still_to_be_done():
    facts = shop(tasks=[task("a"), task("b", after="a"), task("c", after="gone")])
    assert followers_of(facts) == {"a": ("b",), "b": (), "c": ()}
