"""At the event: only what lies on the broken part comes off, and what it takes."""

from __future__ import annotations

import networkx

from fabshop import words
from fabshop.reckoning.facts import FasteningFact
from fabshop.reckoning.pit import SpareFact, likeliest, pit_card
from tests.reckoning.facts_for import component, missing, shop, task

NUTS = FasteningFact(2, "M4×12 SH", words.Locker.NYLON_NUT, single_use=True)
SCREWS = FasteningFact(3, "M3×8 BH", words.Locker.MEDIUM)
WHEELS = component("wheels", off_minutes=4, on_minutes=5)
ARM = component(
    "arm",
    off_minutes=9,
    on_minutes=11,
    routes=(("wheels",),),
    fastenings=(NUTS, SCREWS),
)
BOX = component("box", off_minutes=20, on_minutes=25, routes=(("arm", "pod"),))
POD = component("pod", off_minutes=12, on_minutes=15)


def test_only_what_lies_on_it_comes_off_with_its_minutes_and_nuts() -> None:
    facts = shop(components=[WHEELS, ARM, BOX, POD])
    card = pit_card("arm", facts)
    assert [one.id for one in card.first] == ["wheels"]
    assert (card.first_minutes, card.off_minutes, card.back_minutes) == (4, 9, 16)
    assert card.minutes == 29
    assert card.screws == (("M3×8 BH", 3), ("M4×12 SH", 2))
    assert card.new_nuts == (("M4×12 SH", 2),)
    assert card.lockers == (("medium thread-locker", 3),)


def test_what_comes_off_is_all_that_lies_over_it_and_no_more() -> None:
    """The ancestors in the graph of covers, by networkx."""
    facts = shop(components=[WHEELS, ARM, BOX, POD])
    covers = networkx.DiGraph(
        (cover, part.id)
        for part in facts.components
        for route in part.routes
        for cover in route
    )
    card = pit_card("box", facts)
    assert {one.id for one in card.first} == networkx.ancestors(covers, "box")


def test_spares_that_fit_and_holds_to_sign_again_are_named() -> None:
    facts = shop(
        components=[WHEELS, ARM],
        tasks=[
            task("W9", is_hold=True, opens=("wheels",)),
            task("W8", is_hold=True, opens=("elsewhere",)),
        ],
    )
    spare = SpareFact("SP9", "Arm", 1, "event case", ("arm", "other"))
    card = pit_card("arm", facts, spares=(spare,), broke_before=2)
    assert card.spares == (spare,)
    assert [one.id for one in card.sign_again] == ["W9"]
    assert card.broke_before == 2
    assert pit_card("wheels", facts, spares=(spare,)).spares == ()


def test_what_nobody_has_timed_is_named_and_counts_as_nothing() -> None:
    facts = shop(components=[component("wheels", off_minutes=None), ARM])
    card = pit_card("arm", facts)
    assert card.unknown == ("wheels",)
    assert card.first_minutes == 0


def test_what_is_off_or_not_made_yet_needs_nothing() -> None:
    facts = shop(components=[missing("bar"), component("lid", is_on=False)])
    assert pit_card("bar", facts).minutes == 0
    assert pit_card("lid", facts).first == ()


def test_a_loop_of_covers_has_no_way_in_and_says_so() -> None:
    loop = [component("a", routes=(("b",),)), component("b", routes=(("a",),))]
    card = pit_card("a", shop(components=loop))
    assert not card.is_possible
    assert likeliest([card]) == []


def test_the_likeliest_are_what_broke_before_then_what_has_a_spare() -> None:
    facts = shop(components=[WHEELS, ARM, BOX, POD, missing("bar")])
    spare = SpareFact("SP1", "Pod", 1, "", ("box",))
    cards = [
        pit_card(code, facts, spares=(spare,), broke_before=code == "pod")
        for code in ("wheels", "arm", "box", "pod", "bar")
    ]
    assert [c.component.id for c in likeliest(cards)] == ["pod", "box", "wheels", "arm"]
