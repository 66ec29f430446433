"""Runs one after another on a machine, and what there is of everything."""

from __future__ import annotations

from fabshop.reckoning.facts import StoreFact
from fabshop.reckoning.planning.turns import stores_of, take_turns
from fabshop.reckoning.planning.way import Stretch


def runs(*names):
    return {
        name: {"id": name, "ways": [{"id": "final", "minutes": 20}]} for name in names
    }


def test_a_run_alone_needs_no_turn():
    activities = runs("a")
    take_turns(activities, {"big": ["a"]}, {"a": Stretch(20, 600, "big")})
    assert activities == runs("a")


def test_each_follows_one_other_or_none_and_no_two_the_same():
    activities = runs("a", "b", "c")
    tails = {name: Stretch(20, 600, "big") for name in "abc"}
    take_turns(activities, {"big": ["a", "b", "c"]}, tails)
    ways = {way["id"]: way for way in activities["a"]["ways"]}
    assert set(ways) == {"final after nothing", "final after b", "final after c"}
    assert ways["final after b"]["after"] == [{"id": "b", "lag": 600}]
    assert ways["final after b"]["takes"] == {"turn on big after b": 1}
    stores = stores_of(activities, ())
    assert {store["amount"] for store in stores} == {1.0}


def test_a_spare_promised_twice_by_choice_is_not_refused_but_a_resin_is():
    only = {"x": {"ways": [{"id": "final", "takes": {"SP1": 1, "C01": 300}}]}}
    twice = only | {"y": {"ways": [{"id": "final", "takes": {"SP1": 1, "C01": 300}}]}}
    stores = (
        StoreFact("SP1", "Pod", 1000, is_spare=True),
        StoreFact("C01", "Resin", 410_000),
    )
    amounts = {store["id"]: store["amount"] for store in stores_of(twice, stores)}
    assert amounts == {"SP1": 2.0, "C01": 410.0}
