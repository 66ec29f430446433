"""What a planned teardown takes off before anybody has planned it."""

from __future__ import annotations

from fabshop.reckoning.shelf import comes_off
from tests.reckoning.facts_for import component, missing, shop, task

LID, DECK = component("LID"), component("DECK", "LID")
POD, SHIELD = component("POD", "DECK"), missing("SHIELD", "LID")
SEAT = component("SEAT")


def test_what_is_swapped_comes_off_with_all_that_lies_over_it() -> None:
    facts = shop([task("A", fits="POD", in_teardown=True)], [LID, DECK, POD, SEAT])
    assert [part.id for part in comes_off(facts, "buggy")] == ["LID", "DECK", "POD"]


def test_what_is_not_there_yet_is_only_reached() -> None:
    facts = shop([task("A", fits="SHIELD", in_teardown=True)], [LID, SHIELD])
    assert [part.id for part in comes_off(facts, "buggy")] == ["LID"]


def test_what_is_only_tested_stays_where_it_is() -> None:
    facts = shop([task("A", reach="POD", in_teardown=True)], [LID, DECK, POD])
    assert [part.id for part in comes_off(facts, "buggy")] == ["LID", "DECK"]


def test_other_tasks_and_other_builds_take_nothing_off() -> None:
    facts = shop([task("A", fits="POD")], [LID, DECK, POD])
    assert comes_off(facts, "buggy") == ()
    assert comes_off(facts, "carrier") == ()


def test_covers_in_a_circle_give_nothing() -> None:
    ring = [component("X", "Y"), component("Y", "X")]
    assert comes_off(shop([task("A", fits="X", in_teardown=True)], ring), "buggy") == ()
