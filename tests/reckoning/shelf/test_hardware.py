"""What taking parts off disturbs, counted by hand, and what the trays hold of it."""

from __future__ import annotations

from fabshop.reckoning.facts import FasteningFact, TrayFact
from fabshop.reckoning.shelf import hardware, thread_of
from fabshop.words import Locker, TrayKind
from tests.reckoning.facts_for import component

LID = component(
    "LID",
    fastenings=(
        FasteningFact(6, "M3×8 BH", Locker.MEDIUM),
        FasteningFact(2, "clips", screw=False),
    ),
)
ARM = component(
    "ARM", fastenings=(FasteningFact(2, "M4×12 SH", Locker.NYLON_NUT, True),)
)
LOOM = component("LOOM", fastenings=(FasteningFact(9, "ties", screw=False),))
SCREWS = TrayFact("F1", "M3x8 bh", 118_000)
NUTS = TrayFact("F4", "M4 nylon nut", 12_000, TrayKind.NUT, True)
TIES = TrayFact("F5", "cable tie 2.5 mm", 5_000, TrayKind.TIE, True)


def test_screws_are_counted_by_thread_and_locker() -> None:
    found = hardware([LID, ARM, LOOM], [])
    assert found.screws == 8
    assert found.threads == (("M3", 6), ("M4", 2))
    assert dict(found.lockers) == {Locker.MEDIUM: 6, Locker.NYLON_NUT: 2}
    assert found.besides == ("LID 2 clips", "LOOM 9 ties")


def test_what_is_used_once_must_be_new_from_its_tray() -> None:
    found = hardware([ARM, LOOM], [SCREWS, NUTS, TIES])
    assert [(row.size, row.count, row.have, row.short) for row in found.new] == [
        ("ties", 9, 5, 4),
        ("M4 nut", 2, 12, 0),
    ]
    assert [row.size for row in found.missing] == ["ties"]


def test_screws_go_back_and_are_not_short_however_few_lie_in_the_tray() -> None:
    (row,) = hardware([LID], [TrayFact("F1", "M3×8 BH", 1_000)]).rows
    assert (row.is_new, row.have, row.short) == (False, 1, 0)


def test_a_size_is_found_however_it_was_typed() -> None:
    (row,) = hardware([LID], [SCREWS]).rows
    assert row.have == 118


def test_what_no_tray_holds_is_unknown_and_short_where_it_must_be_new() -> None:
    (row,) = hardware([ARM], []).new
    assert (row.have, row.short) == (None, 2)


def test_a_tray_below_nothing_gives_nothing() -> None:
    """Row 46: counted wrong, nothing can be taken from it."""
    (row,) = hardware([ARM], [TrayFact("F4", "M4 nut", -2_000, TrayKind.NUT)]).new
    assert row.short == 2


def test_a_screw_or_a_clip_used_once_is_new_too() -> None:
    part = component(
        "P",
        fastenings=(
            FasteningFact(3, "M2×6", single_use=True),
            FasteningFact(1, "strap", single_use=True, screw=False),
        ),
    )
    found = hardware([part], [TrayFact("F9", "strap", 0, TrayKind.OTHER)])
    assert [(row.size, row.short) for row in found.new] == [("M2×6", 3), ("strap", 1)]


def test_the_thread_is_what_stands_before_the_length() -> None:
    assert [thread_of(size) for size in ("M2.5×6 CS", "M4 nylon nut", "M3x8")] == [
        "M2.5",
        "M4",
        "M3",
    ]
