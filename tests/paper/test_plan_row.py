"""The lines of a teardown sheet: bands, parts of a hold, and what holds a part."""

from __future__ import annotations

from decimal import Decimal

import pytest

from fabshop.paper.plan_row import Lines, held_by, sessions_of
from fabshop.records.plan import Plan
from fabshop.records.shop import Shop
from fabshop.snapshot import take
from tests.factories import (
    MOMENT,
    BuildFactory,
    ComponentFactory,
    FasteningFactory,
    PlanFactory,
    ReadingFactory,
    TaskFactory,
)


def step(do: str, name: str, start: str, finish: str) -> dict[str, object]:
    return {"do": do, "id": name, "minutes": 5, "start": start, "finish": finish}


@pytest.fixture
def plan(shop: Shop) -> Plan:
    """Two sessions; the second runs over midnight of the summer clock's end."""
    build = BuildFactory(slug="wren", letter="R")
    ComponentFactory(build=build, code="R01", name="Lid", side="L")
    hold = TaskFactory(build=build, code="W1", title="Test", is_hold=True)
    ReadingFactory(task=hold, number=1, label="Lamps")
    ReadingFactory(
        task=hold,
        number=2,
        label="Voltage",
        kind="number",
        unit="V",
        low=Decimal("10.50"),
    )
    sessions = [
        [
            step("remove", "R01", "2027-09-04T18:00", "2027-09-04T18:05"),
            step("task", "W1", "2027-09-04T20:55", "2027-09-05T18:05"),
        ],
        [step("refit", "R01", "2027-10-31T10:00", "2027-10-31T10:05")],
    ]
    made: Plan = PlanFactory(
        build=build,
        utc_offset_minutes=60,
        question={
            "tasks": [{"id": "W1", "fits": [], "remove": ["R01"], "reach": ["R01"]}]
        },
        answer={"sessions": [{"steps": steps} for steps in sessions]},
    )
    return made


def test_a_band_stands_where_the_kind_of_step_the_day_or_the_session_changes(
    plan: Plan,
) -> None:
    first, second = sessions_of(list(Lines(plan, take(MOMENT)).rows()))
    assert [(row.band, row.band_day) for row in first] == [
        ("A. Off", "Sat 4 Sep"),
        ("B. While it is open", "Sat 4 Sep"),
    ]
    assert [(row.number, row.band) for row in second] == [(3, "C. On")]


def test_work_over_two_days_ends_with_its_day(plan: Plan) -> None:
    row = list(Lines(plan, take(MOMENT)).rows())[1]
    assert (row.starts, row.ends) == ("20:55", "Sun 5 Sep 18:05")


def test_behind_a_clock_change_the_sheet_shows_what_the_wall_shows(plan: Plan) -> None:
    """Row 16: ten on the plan's summer clock is nine on the wall from 31 October."""
    row = list(Lines(plan, take(MOMENT)).rows())[2]
    assert (row.starts, row.ends) == ("09:00", "09:05")


def test_a_hold_has_a_blank_for_each_reading(plan: Plan) -> None:
    row = list(Lines(plan, take(MOMENT)).rows())[1]
    assert row.zone == "R01"
    assert [(b.label, b.is_tick, b.unit, b.bounds) for b in row.readings] == [
        ("Lamps", True, "", ""),
        ("Voltage", False, "V", "at least 10.5"),
    ]


def test_a_part_says_its_side_and_that_its_bag_wants_a_number(plan: Plan) -> None:
    lid = plan.build.components.get()
    FasteningFactory(component=lid, count=4, size="M3×8 BH")
    FasteningFactory(
        component=lid, count=2, size="M4×12 SH", locker="nylon-nut", is_single_use=True
    )
    off, _, on = Lines(plan, take(MOMENT)).rows()
    assert off.side == "left"
    assert off.held == ["4×M3×8 BH, dry", "2×M4×12 SH, new nut"]
    assert off.wants_bag
    assert not off.bag
    assert on.new_nuts == ["2 new nuts"]
    assert off.new_nuts == []


@pytest.mark.parametrize(
    ("told", "shown"),
    [
        ({"count": 4, "size": "M4×12 SH", "locker": "medium"}, "4×M4×12 SH, medium"),
        ({"count": 9, "size": "ties", "is_screw": False}, "9 ties"),
        (
            {"count": 2, "size": "M3×8 BH", "torque_mnm": 1500},
            "2×M3×8 BH, dry, 1.5 N m",
        ),
    ],
)
def test_what_holds_a_part(db: None, told: dict[str, object], shown: str) -> None:
    assert held_by(FasteningFactory(**told)) == shown
