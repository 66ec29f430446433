"""The demo shop's shelf against the check values worked out by hand."""

from __future__ import annotations

from datetime import date, datetime

from fabshop import words
from fabshop.reckoning.readiness import blocked_by_undelivered
from fabshop.reckoning.shelf import comes_off, hardware, to_order, warnings_of
from fabshop.records.plan import Plan
from fabshop.records.shop import Shop
from fabshop.snapshot import take
from fabshop.snapshot.shelf import shelf_stands, tray_facts

CLOSURE = (
    "T02 T03 T04 T08 T09 T10 T11 T12 T13 T14 T17 T18 T20 T21 T23 T26 T27 T31 T32 T34"
)


def test_fasteners_disturbed(demo: Shop, now: datetime) -> None:
    """Check value 4: 48 M3, 15 M4, 4 M2.5; 28 with locker, 33 dry, 6 new nuts."""
    parts = comes_off(take(now), "tuppence")
    assert " ".join(sorted(part.id for part in parts)) == CLOSURE
    found = hardware(parts, tray_facts())
    assert found.screws == 67
    assert dict(found.threads) == {"M3": 48, "M4": 15, "M2.5": 4}
    assert dict(found.lockers) == {
        words.Locker.MEDIUM: 28,
        words.Locker.NONE: 33,
        words.Locker.NYLON_NUT: 6,
    }
    assert {row.size: (row.count, row.have) for row in found.new} == {
        "M4 nut": (6, 12),
        "ties": (9, 60),
    }
    assert found.missing == ()


def test_trays_count_what_was_booked_in(demo: Shop) -> None:
    """After the two orders of screws: 118, 41, 45, 12 nuts, 60 ties."""
    left = {tray.id: tray.left_milli // 1000 for tray in tray_facts()}
    assert left == {"F01": 118, "F02": 41, "F03": 45, "F04": 12, "F05": 60}


def test_resin_is_short_and_must_be_used_by_the_sixteenth(
    demo: Shop, now: datetime
) -> None:
    """Check value 10: 555 g wanted, 410 g in hand, use-by 16 Sept: short 145 g."""
    facts = take(now)
    found = shelf_stands(facts)
    resin = next(one for one in found if one.thing.id == "C01")
    assert (resin.wanted_milli, resin.short_milli) == (555_000, 145_000)
    assert resin.last_good_on == date(2027, 9, 16)
    said = warnings_of(found)
    assert any("to be done by Thu 16 Sep" in one for one in said["W54"])
    assert [one.thing.id for one in to_order(found, facts.now.date())] == ["C01", "C05"]


def test_potting_resin_has_gone_off_and_blocks_nothing_by_itself(
    demo: Shop, now: datetime
) -> None:
    """Row 44 and check value 16: it warns W17; the 21 that want parts stay 21."""
    facts = take(now)
    assert "gone off since Tue 31 Aug" in warnings_of(shelf_stands(facts))["W17"][0]
    blocked = {one.task for one in blocked_by_undelivered(facts)}
    assert len(blocked) == 21
    assert "W17" not in blocked


def test_the_accepted_plan_says_the_day(demo_plan: Plan, now: datetime) -> None:
    found = shelf_stands(take(now))
    glue = next(one for one in found if one.thing.id == "C02")
    assert [use.day.is_planned for use in glue.uses] == [True]
    assert glue.uses[0].day.on is not None
    assert glue.uses[0].day.on >= date(2027, 9, 18)
