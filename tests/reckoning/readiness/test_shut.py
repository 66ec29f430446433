"""What must come off is the least, and comes off outermost first."""

from __future__ import annotations

import random
from itertools import combinations

from fabshop import words
from fabshop.reckoning.readiness.shut import Shut, is_for_good, shut_in
from tests.reckoning.facts_for import component, missing, shop, task


def shut(one, *parts):
    return shut_in(one, shop([one], parts))


def test_covers_come_off_from_the_outside_in():
    parts = (
        component("pod", "pan deck", off_minutes=12),
        component("pan", off_minutes=6),
        component("deck", "carrier", off_minutes=4),
        component("carrier", off_minutes=3),
    )
    found = shut(task("A", fits="pod"), *parts)
    assert found == Shut(components=("carrier", "pan", "deck", "pod"), minutes=25)
    assert shut(task("A", remove="pod"), *parts) == found


def test_what_is_only_reached_stays_on():
    parts = (component("loom", "seat"), component("seat", "lid"), component("lid"))
    found = shut(task("A", reach="loom"), *parts)
    assert found.components == ("lid", "seat")


def test_what_is_off_already_costs_nothing():
    parts = (
        component("seat", "lid", is_on=False),
        component("lid", is_on=False),
    )
    assert shut(task("A", fits="seat"), *parts) == Shut()


def test_a_part_not_made_yet_is_put_in_through_an_open_way():
    parts = (missing("shield", "seat"), component("seat"))
    assert shut(task("A", fits="shield"), *parts).components == ("seat",)


def test_the_cheaper_of_two_ways_in_is_taken():
    parts = (
        component("deck", "lid", "skirt skid", off_minutes=1),
        component("lid", off_minutes=9),
        component("skirt", off_minutes=4),
        component("skid", off_minutes=4),
    )
    assert shut(task("A", reach="deck"), *parts).components == ("skid", "skirt")


def test_a_way_that_serves_two_places_beats_the_cheapest_of_each():
    parts = (
        component("a", "left", "both", off_minutes=1),
        component("b", "right", "both", off_minutes=1),
        component("left", off_minutes=4),
        component("right", off_minutes=4),
        component("both", off_minutes=6),
    )
    assert shut(task("A", reach="a b"), *parts).components == ("both",)


def test_a_way_that_destroys_nothing_is_taken_though_it_is_longer():
    final = words.ComponentState.FINAL
    parts = (
        component("dash", "cowl", "roof screen", off_minutes=1),
        component("cowl", off_minutes=2, for_good=True, state=final),
        component("roof", off_minutes=30),
        component("screen", off_minutes=30),
    )
    assert shut(task("A", reach="dash"), *parts).components == ("roof", "screen")
    only = (component("dash", "cowl"), parts[1])
    assert shut(task("A", reach="dash"), *only).for_good == ("cowl",)


def test_what_is_dry_fitted_comes_off_though_its_final_fitting_would_not():
    dry = component("cowl", for_good=True, state=words.ComponentState.DRY_FIT)
    assert not is_for_good(dry)


def test_unknown_minutes_count_as_nothing_and_are_named():
    parts = (component("seat", "lid"), component("lid", off_minutes=None))
    found = shut(task("A", fits="seat"), *parts)
    assert (found.minutes, found.unknown) == (5, ("lid",))


def test_without_a_closer_word_the_place_worked_on_must_be_reachable():
    parts = (component("seat", "lid"), component("lid"))
    assert shut(task("A", opens="seat"), *parts).components == ("lid",)
    assert shut(task("A", opens="seat", reach="lid"), *parts).components == ()
    assert shut(task("A"), *parts) == Shut()


def opened(places, off, name):
    """Whether one whole route to `name` is off, by the definition."""
    ways = places[name].routes or ((),)
    return any(all(not places[c].is_on or c in off for c in way) for way in ways)


def can_come_off(places, off):
    """Whether `off` can be taken off one after another, each when it is reachable."""
    gone: set[str] = set()
    while gone != off:
        free = {name for name in off - gone if opened(places, gone, name)}
        if not free:
            return False
        gone |= free
    return True


def test_it_is_never_more_than_an_exhaustive_search_finds():
    for seed in range(150):
        chance = random.Random(seed)
        names = [f"c{n}" for n in range(chance.randint(1, 6))]
        parts = []
        for n, name in enumerate(names):
            ways = [
                " ".join(chance.sample(names[:n], chance.randint(1, min(n, 2))))
                for _ in range(chance.randint(0, 2) if n else 0)
            ]
            minutes = chance.randint(0, 9)
            is_on = chance.random() < 0.8
            parts.append(component(name, *ways, off_minutes=minutes, is_on=is_on))
        places = {part.id: part for part in parts}
        fits = chance.sample(names, chance.randint(0, 1))
        reach = chance.sample(names, chance.randint(1, min(2, len(names))))
        one = task("A", fits=tuple(fits), reach=tuple(reach))
        found = shut(one, *parts)
        on = [part.id for part in parts if part.is_on]
        best = min(
            sum(places[name].off_minutes for name in off)
            for size in range(len(on) + 1)
            for off in map(set, combinations(on, size))
            if all(opened(places, off, name) for name in (*reach, *fits))
            and all(name in off or not places[name].is_on for name in fits)
            and can_come_off(places, off)
        )
        assert found.minutes == best, seed
        gone: set[str] = set()
        for name in found.components:
            assert opened(places, gone, name), f"{seed}: {name} came off too soon"
            gone.add(name)
        assert all(opened(places, gone, name) for name in (*reach, *fits)), seed
