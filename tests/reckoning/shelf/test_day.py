"""The day on which a task is done: planned, else the first on which it can be."""

from __future__ import annotations

from fabshop.reckoning.shelf import planned_days
from tests.reckoning.facts_for import PACK_OUT, at, day, order, shop, task


def test_what_a_plan_says_counts_before_what_could_be() -> None:
    found = planned_days(shop([task("A")]), {"A": at(4, 18)})["A"]
    assert (found.on, found.is_planned) == (day(4), True)


def test_a_plan_that_lies_behind_means_today() -> None:
    assert planned_days(shop([task("A")]), {"A": at(-2, 18)})["A"].on == day(0)


def test_without_a_plan_it_is_the_first_day_on_which_it_can_be_done() -> None:
    found = planned_days(shop([task("A"), task("B", after="A")]))
    assert (found["A"].on, found["A"].is_planned) == (day(0), False)
    assert found["B"].by_on is not None
    assert found["B"].by_on <= PACK_OUT.date()


def test_parcels_make_it_a_later_day_and_late_ones_a_later_one_still() -> None:
    found = planned_days(shop([task("A", needs="P1/1")], orders=[order("P1")]))["A"]
    assert (found.on, found.late_on) == (day(5), day(8))


def test_where_nobody_knows_there_is_no_day() -> None:
    endless = order("P1", lead_likely_days=None, lead_late_days=None)
    assert planned_days(shop([task("A", needs="P1/1")], orders=[endless]))["A"].on is (
        None
    )
