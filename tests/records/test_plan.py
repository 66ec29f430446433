"""What may never be true of kept plans."""

from __future__ import annotations

from typing import Any

import pytest

from tests.factories import (
    ComponentFactory,
    PlanFactory,
    PlanStepFactory,
    TaskFactory,
)
from tests.records.refused import refused

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("check", "fields"),
    [
        # Two checks refuse this one; which is named first is the database's own.
        ("plan_", {"state": "dreamt", "edition": "A"}),
        ("plan_accepted_has_an_edition", {"state": "accepted", "edition": ""}),
        ("plan_accepted_has_an_edition", {"state": "proposed", "edition": "A"}),
    ],
)
def test_a_plan_that_cannot_be(check: str, fields: dict[str, Any]) -> None:
    with refused(check):
        PlanFactory(**fields)


def test_a_build_has_one_accepted_plan_and_each_edition_once() -> None:
    plan = PlanFactory(state="accepted", edition="A")
    with refused():
        PlanFactory(build=plan.build, state="accepted", edition="B")
    with refused():
        PlanFactory(build=plan.build, state="superseded", edition="A")


def test_a_step_is_of_one_thing() -> None:
    plan = PlanFactory()
    for fields in (
        {"does": "task", "task": None, "component": ComponentFactory()},
        {"does": "remove", "task": TaskFactory(), "component": None},
        {"does": "refit", "task": TaskFactory(), "component": ComponentFactory()},
    ):
        with refused("plan_step_is_of_one_thing"):
            PlanStepFactory(plan=plan, **fields)


def test_a_number_stands_once_in_a_plan() -> None:
    step = PlanStepFactory(number=1)
    with refused():
        PlanStepFactory(plan=step.plan, number=1)
