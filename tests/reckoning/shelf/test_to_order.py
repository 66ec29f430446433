"""What to order, how much at least, and by what day."""

from __future__ import annotations

from fabshop.reckoning.shelf import to_order
from tests.reckoning.facts_for import TODAY, day
from tests.reckoning.shelf.shelf_for import resin, stand


def test_what_is_there_and_good_is_not_ordered() -> None:
    assert to_order([stand(resin(), ("A", 100, 3))], TODAY) == ()


def test_the_last_day_to_order_is_worked_back_by_the_late_lead() -> None:
    thing = resin(left=50, firm="Nib & Co", lead_days=4)
    (found,) = to_order([stand(thing, ("A", 40, 1), ("B", 40, 9))], TODAY)
    assert (found.quantity_milli, found.needed_on) == (30_000, day(9))
    assert (found.order_by, found.is_for_today) == (day(5), False)
    assert "Nib & Co takes up to 4 days" in found.sentence


def test_what_cannot_come_in_time_any_more_is_for_today() -> None:
    thing = resin(left=0, firm="Nib & Co", lead_days=4)
    (found,) = to_order([stand(thing, ("A", 40, 2))], TODAY)
    assert found.is_for_today


def test_an_unknown_lead_is_said_and_means_today() -> None:
    (found,) = to_order([stand(resin(left=0), ("A", 40, 9))], TODAY)
    assert found.is_for_today
    assert found.sentence.endswith("who brings it and how long that takes is unknown")
    known = resin(left=0, firm="Nib & Co")
    (found,) = to_order([stand(known, ("A", 40, 9))], TODAY)
    assert found.sentence.endswith("how long Nib & Co takes is unknown")


def test_what_goes_off_before_its_day_is_ordered_anew() -> None:
    thing = resin(use_by_on=day(4))
    (found,) = to_order([stand(thing, ("A", 10, 3), ("B", 10, 6))], TODAY)
    assert (found.tasks, found.quantity_milli) == (("B",), 10_000)


def test_what_the_owner_let_through_needs_no_order() -> None:
    thing = resin(use_by_on=day(-1), let=(("A", "hard"),))
    assert to_order([stand(thing, ("A", 10, 0))], TODAY) == ()


def test_what_is_on_its_way_is_not_ordered_again() -> None:
    thing = resin(left=10, coming_milli=25_000)
    (found,) = to_order([stand(thing, ("A", 30, 1), ("B", 15, 2))], TODAY)
    assert (found.tasks, found.quantity_milli) == (("B",), 10_000)


def test_none_left_of_what_nobody_measured_is_ordered_too() -> None:
    (found,) = to_order([stand(resin(left=0), ("A", None, 1))], TODAY)
    assert found.quantity_milli is None
    assert to_order([stand(resin(left=1), ("A", None, 1))], TODAY) == ()


def test_gone_off_and_unmeasured_is_ordered() -> None:
    off = resin(use_by_on=day(-1))
    (found,) = to_order([stand(off, ("A", None, 1))], TODAY)
    assert found.tasks == ("A",)


def test_the_most_urgent_stands_first() -> None:
    late = resin("C2", left=0, firm="Nib & Co", lead_days=1)
    soon = resin("C3", left=0, firm="Nib & Co", lead_days=6)
    found = to_order([stand(late, ("A", 1, 9)), stand(soon, ("A", 1, 9))], TODAY)
    assert [one.thing.id for one in found] == ["C3", "C2"]
