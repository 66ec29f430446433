"""How accepted teardowns stand, and plan times as the wall clock shows them."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest

from fabshop.records.plan import Plan
from fabshop.records.shop import Shop
from fabshop.snapshot import accepted_plans, take, wall_of
from tests.factories import (
    MOMENT,
    BuildFactory,
    PlanFactory,
    PlanStepFactory,
    StepTickFactory,
    TaskFactory,
)

EVENING = datetime(2027, 9, 19, 17, 0, tzinfo=UTC)


@pytest.fixture
def plan(shop: Shop) -> Plan:
    build = BuildFactory(slug="wren", name="Wren")
    made: Plan = PlanFactory(
        build=build,
        state="accepted",
        edition="A",
        utc_offset_minutes=60,
        answer={
            "sessions": [
                {"start": "2027-09-19T10:00", "latest_start": "2027-09-19T12:02"}
            ]
        },
    )
    PlanStepFactory(
        plan=made,
        number=1,
        does="task",
        component=None,
        task=TaskFactory(build=build, code="W7"),
        starts_at=EVENING,
        ends_at=EVENING + timedelta(hours=1),
    )
    return made


def test_each_task_has_the_moment_of_its_step_on_the_plans_clock(plan: Plan) -> None:
    found = accepted_plans(take(MOMENT))
    assert found.planned == {"W7": datetime(2027, 9, 19, 18, 0)}
    assert found.pages == {"wren": plan.pk}


def test_a_teardown_has_begun_with_its_first_tick(plan: Plan) -> None:
    (stand,) = accepted_plans(take(MOMENT)).stands
    assert (stand.name, stand.start_by) == ("Wren", datetime(2027, 9, 19, 12, 2))
    assert not stand.has_begun
    StepTickFactory(step=plan.steps.get())
    (stand,) = accepted_plans(take(MOMENT)).stands
    assert stand.has_begun


def test_in_hand_is_counted_in_hours_at_the_bench(demo_plan: Plan) -> None:
    (stand,) = accepted_plans(take(MOMENT)).stands
    assert stand.in_hand_minutes == 122


def test_only_accepted_plans_count(shop: Shop) -> None:
    PlanFactory()
    assert accepted_plans(take(MOMENT)).stands == ()


def test_behind_a_clock_change_the_wall_shows_another_hour(plan: Plan) -> None:
    wall = wall_of(plan)
    assert wall.say("2027-10-30T10:00") == "Sat 30 Oct 10:00"
    assert wall.say("2027-10-31T10:00") == "Sun 31 Oct 09:00"
    assert wall.say(None) == ""
