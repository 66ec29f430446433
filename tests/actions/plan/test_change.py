"""A plan stands until the shop changes; then it says what differs."""

from __future__ import annotations

from datetime import datetime, timedelta

from fabshop.actions.build import change_component
from fabshop.actions.plan import plan_change, tick_to
from fabshop.records.build import Build, Component
from fabshop.records.plan import Plan
from fabshop.records.shop import Person
from tests.factories import ComponentFactory, CoverFactory


def test_time_and_the_plans_own_ticks_change_nothing(
    accepted: Plan, owner: Person, now: datetime
) -> None:
    assert not plan_change(plan=accepted, now=now).has_changed
    tick_to(by=owner, plan=accepted, number=2, now=now)
    later = now + timedelta(hours=13)
    assert not plan_change(plan=accepted, now=later).has_changed


def test_longer_handling_moves_the_times_and_not_the_steps(
    accepted: Plan, owner: Person, now: datetime
) -> None:
    change_component(
        by=owner, component=Component.objects.get(code="R01"), off_minutes=30, now=now
    )
    change = plan_change(plan=accepted, now=now, look_into=True)
    assert change.sentence == (
        "The shop has changed since edition A: the steps stay, their times move."
    )
    assert change.was_in_hand is not None
    assert change.now_in_hand == change.was_in_hand - 26


def test_another_cover_changes_the_steps(
    accepted: Plan, wren: Build, now: datetime
) -> None:
    hoop = ComponentFactory(build=wren, code="R03", off_minutes=5, on_minutes=5)
    CoverFactory(under=Component.objects.get(code="R01"), cover=hoop)
    quick = plan_change(plan=accepted, now=now)
    assert quick.has_changed
    assert not quick.looked_into
    assert quick.sentence == "The shop has changed since edition A."
    change = plan_change(plan=accepted, now=now, look_into=True)
    assert "differ" in change.sentence or "more" in change.sentence
