"""Choices that cannot both be had are named."""

from __future__ import annotations

import pytest

from fabshop.console.audit_schedule import SCHEDULE_CHECKS
from fabshop.records.packout import Spare
from tests.factories import MOMENT, FallbackFactory, TaskFactory

pytestmark = pytest.mark.django_db


def test_a_spare_taken_by_two_is_named_and_one_that_is_only_offered_is_not() -> None:
    said = SCHEDULE_CHECKS["spare-promised-twice"]
    Spare.objects.create(code="SP1", title="Old pod", quantity=1)
    FallbackFactory(task=TaskFactory(code="W20"), uses="SP1", chosen_at=MOMENT)
    other = FallbackFactory(task=TaskFactory(code="W65"), uses="SP1 SP3")
    assert list(said()) == []
    other.chosen_at = MOMENT
    other.save()
    assert list(said()) == ["SP1 is promised to W20 and W65: there is 1."]


def test_a_wish_that_goes_by_plan_b_is_named() -> None:
    said = SCHEDULE_CHECKS["wish-by-plan-b"]
    task = TaskFactory(code="W57", title="Cab", wished_at=MOMENT)
    assert list(said()) == []
    FallbackFactory(task=task, chosen_at=MOMENT)
    assert list(said()) == ["W57 Cab must be had in its final way, and goes by Plan B."]
