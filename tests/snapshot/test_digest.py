"""A digest changes with the shop, not with the hour nor with the plan's progress."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from fabshop import words
from fabshop.reckoning.facts import DayFact, FinishedTask
from fabshop.snapshot import digest
from tests.reckoning.facts_for import (
    PACK_OUT,
    at,
    build,
    component,
    day,
    evenings,
    line,
    order,
    promise,
    shop,
    span,
    task,
)

TASKS = (
    task("A", fits="seat", needs="P1/1"),
    task("H", is_hold=True, after="A"),
    task("S", build=""),
    task("G", build="carrier"),
)
PARTS = (component("seat", "lid"), component("lid"))
ORDERS = (order("P1", promises=(promise(3),)), order("P2"))
BUILDS = (build(), build("carrier"))


def facts(tasks=TASKS, parts=PARTS, orders=ORDERS, **said):
    return shop(tasks, parts, orders, **{"builds": BUILDS, **said})


def changed(tasks=TASKS, parts=PARTS, orders=ORDERS, **said):
    now = digest(facts(tasks, parts, orders, **said), "buggy")
    return now != digest(facts(), "buggy")


def with_task(id, **said):
    return tuple(replace(one, **said) if one.id == id else one for one in TASKS)


def with_part(id, **said):
    return tuple(replace(one, **said) if one.id == id else one for one in PARTS)


def test_the_same_facts_in_any_order_give_the_same_digest():
    shuffled = facts(TASKS[::-1], PARTS[::-1], ORDERS[::-1], builds=BUILDS)
    assert digest(shuffled, "buggy") == digest(facts(), "buggy")
    assert len(digest(facts())) == 64


def test_the_passing_of_time_changes_nothing():
    nights = evenings()
    later = {"windows": nights[3:], "past_windows": nights[:3]}
    assert not changed(now=at(3, 12), **later)


@pytest.mark.parametrize(
    "said",
    [
        {"state": words.TaskState.UNDER_WAY, "under_way_by": ("Hal",)},
        {"state": words.TaskState.DONE, "cured_at": PACK_OUT},
        {"logged": 90},
    ],
)
def test_work_on_a_task_of_the_plan_changes_nothing(said):
    assert not changed(with_task("A", **said))


def test_a_signed_hold_changes_nothing_and_a_failed_one_does():
    assert not changed(with_task("H", hold=words.HoldVerdict.SIGNED))
    assert changed(with_task("H", hold=words.HoldVerdict.FAILED))


def test_taking_off_and_fitting_changes_nothing():
    assert not changed(parts=with_part("seat", is_on=False))
    assert not changed(parts=with_part("seat", state=words.ComponentState.DRY_FIT))


def test_what_the_log_teaches_of_factors_changes_nothing():
    assert not changed(finished=(FinishedTask("other", 60, 90),) * 5)


@pytest.mark.parametrize(
    "said",
    [
        {"minutes": 61},
        {"left": 10},
        {"after": ("S",)},
        {"fits": ("lid",)},
        {"state": words.TaskState.GIVEN_UP},
        {"required": False},
    ],
)
def test_a_task_said_otherwise_changes_it(said):
    assert changed(with_task("A", **said))


def test_another_cover_or_other_minutes_change_it():
    assert changed(parts=with_part("seat", routes=()))
    assert changed(parts=with_part("lid", off_minutes=6))
    assert changed(parts=PARTS[:1])


def test_a_parcel_that_comes_or_slips_changes_it():
    slipped = replace(ORDERS[0], promises=(promise(3), promise(5)))
    assert changed(orders=(slipped, ORDERS[1]))
    came = replace(ORDERS[0], lines=(line("P1/1", accepted_milli=1000),))
    assert changed(orders=(came, ORDERS[1]))


def test_what_nothing_needs_may_come_when_it_likes():
    assert not changed(orders=ORDERS[:1])
    slipped = replace(ORDERS[1], promises=(promise(9),))
    assert not changed(orders=(ORDERS[0], slipped))


def test_other_hours_and_days_before_pack_out_change_it_and_after_it_none():
    nights = evenings()
    assert changed(windows=nights[:-1])
    after = span(20, 9, 17)
    assert not changed(windows=(*nights, after))
    assert changed(days=(DayFact(day(2), has_deliveries=False),))
    assert not changed(days=(DayFact(day(20), has_deliveries=False),))


def test_another_pack_out_changes_it():
    builds = (build(pack_out=PACK_OUT + timedelta(hours=1)), BUILDS[1])
    assert changed(builds=builds)


def test_another_build_changes_only_the_digest_of_all():
    tasks = with_task("G", minutes=90)
    assert not changed(tasks)
    assert digest(facts(tasks)) != digest(facts())


def test_a_clock_that_changes_leaves_it_as_it_was():
    hour = timedelta(hours=1)
    moved = facts(
        windows=tuple(
            replace(one, start=one.start - hour, end=one.end - hour)
            for one in evenings()
        ),
        builds=tuple(replace(one, pack_out=PACK_OUT - hour) for one in BUILDS),
        utc_offset_minutes=-60,
    )
    assert digest(moved, "buggy") == digest(facts(), "buggy")


# A plan of `fit`: it comes after `make`, which wants P1, and the hold `test` (after
# `wire`, which wants P2) lies over what it fits; `other` wants P3 and is beside it.
PLANNED = (
    task("make", needs="P1/1"),
    task("fit", after="make", fits="lid"),
    task("wire", needs="P2/1"),
    task("test", is_hold=True, after="wire", reach="seat"),
    task("other", needs="P3/1"),
)
WANTED = (order("P1"), order("P2"), order("P3"))


@pytest.mark.parametrize(
    ("name", "counts"),
    [
        ("fit", True),
        ("make", True),
        ("test", True),
        ("wire", True),
        ("other", False),
    ],
)
def test_of_a_plan_only_the_work_it_stands_on_counts(name, counts):
    longer = tuple(
        replace(one, minutes=500) if one.id == name else one for one in PLANNED
    )
    before = digest(facts(PLANNED, orders=WANTED), "buggy", ["fit"])
    assert (digest(facts(longer, orders=WANTED), "buggy", ["fit"]) != before) is counts


@pytest.mark.parametrize(
    ("name", "counts"), [("P1", True), ("P2", True), ("P3", False)]
)
def test_of_a_plan_only_the_orders_that_work_wants_count(name, counts):
    slipped = tuple(
        order(one.id, promises=(promise(9),)) if one.id == name else one
        for one in WANTED
    )
    before = digest(facts(PLANNED, orders=WANTED), "buggy", ["fit"])
    after = digest(facts(PLANNED, orders=slipped), "buggy", ["fit"])
    assert (after != before) is counts


def test_signing_the_hold_over_what_a_plan_fits_is_its_own_progress():
    signed = tuple(
        replace(one, hold=words.HoldVerdict.SIGNED) if one.id == "test" else one
        for one in PLANNED
    )
    assert digest(facts(signed), "buggy", ["fit"]) == digest(
        facts(PLANNED), "buggy", ["fit"]
    )
