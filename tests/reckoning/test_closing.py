"""What is closed off for good, on machines small enough to see."""

from __future__ import annotations

from fabshop.reckoning.closing import shut_for_good
from tests.reckoning.facts_for import component


def test_what_lies_under_the_bonded_part_is_closed_off() -> None:
    parts = [component("cowl"), component("dash", "cowl"), component("seat")]
    assert shut_for_good(["cowl"], parts) == ("dash",)


def test_it_closes_off_what_lies_deeper_too() -> None:
    parts = [component("cowl"), component("dash", "cowl"), component("loom", "dash")]
    assert shut_for_good(["cowl"], parts) == ("dash", "loom")


def test_another_way_in_keeps_it_open() -> None:
    parts = [component("cowl"), component("floor"), component("dash", "cowl", "floor")]
    assert shut_for_good(["cowl"], parts) == ()
    assert shut_for_good(["cowl", "floor"], parts) == ("dash",)


def test_one_of_two_that_must_both_be_off_is_enough_to_close_it() -> None:
    parts = [component("cowl"), component("floor"), component("dash", "cowl floor")]
    assert shut_for_good(["floor"], parts) == ("dash",)


def test_nothing_fitted_closes_off_nothing() -> None:
    assert shut_for_good([], [component("dash", "cowl"), component("cowl")]) == ()
