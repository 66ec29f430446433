"""A hold keeps open what lies over its zone, but not against what precedes it."""

from __future__ import annotations

from datetime import timedelta

import pytest

from fabshop import words
from fabshop.reckoning.readiness import kept_open
from fabshop.reckoning.readiness.hold import ancestors, binds, curing_over, holds_over
from tests.reckoning.facts_for import NOW, component, done, shop, task

PLACES = [
    component("lid"),
    component("skirt"),
    component("seat", "lid"),
    component("loom", "seat dash", "skirt"),
    component("board", "seat loom"),
    component("dash"),
]


def hold(**said):
    return task("H", is_hold=True, reach="loom board", **said)


def test_a_hold_keeps_open_all_that_lies_directly_over_its_zone_but_never_the_zone():
    facts = shop([hold()], PLACES)
    assert kept_open(hold(), facts) == ("dash", "seat", "skirt")


def test_what_is_said_to_stay_open_does_whether_it_is_a_hold_or_not():
    facts = shop([], PLACES)
    assert kept_open(task("A", keeps_open="lid", reach="loom"), facts) == ("lid",)
    assert "lid" in kept_open(hold(keeps_open="lid"), facts)


def test_the_place_worked_on_is_in_the_zone_too():
    facts = shop([], PLACES)
    assert kept_open(task("H", is_hold=True, opens="seat"), facts) == ("lid",)


@pytest.mark.parametrize(
    ("verdict", "binding"),
    [
        (None, True),
        (words.HoldVerdict.FAILED, True),
        (words.HoldVerdict.SIGNED, False),
        (words.HoldVerdict.WAIVED, False),
    ],
)
def test_a_hold_binds_until_it_is_signed_or_waived(verdict, binding):
    assert binds(hold(hold=verdict)) is binding
    facts = shop([hold(hold=verdict), task("A", fits="dash")], PLACES)
    assert (holds_over(facts) == {"A": ("H",)}) is binding


def test_a_failed_hold_binds_though_it_was_once_done():
    failed = done("H", is_hold=True, hold=words.HoldVerdict.FAILED)
    assert binds(failed)
    assert not binds(done("H", is_hold=True))


def test_the_hold_does_not_hold_up_what_it_waits_for_itself():
    tasks = [
        task("A", fits="dash"),
        task("B", after="A"),
        hold(after="B"),
        task("C", fits="dash", after="H"),
        task("D", fits="lid"),
    ]
    facts = shop(tasks, PLACES)
    assert ancestors("H", facts) == {"A", "B"}
    assert holds_over(facts) == {"C": ("H",)}


def test_a_cure_keeps_open_what_it_said_until_it_is_over():
    glued = done("G", keeps_open="seat", cured_at=NOW + timedelta(hours=2))
    over = done("O", keeps_open="seat", cured_at=NOW)
    fit = task("A", fits="seat")
    assert curing_over(fit, shop([glued, over, fit], PLACES)) == (glued,)
    assert curing_over(task("B", fits="dash"), shop([glued], PLACES)) == ()
