"""What has changed since the plan was made, and how far behind it the shop is."""

from __future__ import annotations

from datetime import timedelta

import pytest

from fabshop.actions.schedule import plan_drift
from fabshop.actions.task import change_task
from fabshop.records.task import Task
from fabshop.snapshot import take
from fabshop.snapshot.kept_plan import kept_plan
from tests.factories import MOMENT

pytestmark = pytest.mark.django_db


def drift_at(now):
    facts = take(now)
    kept = kept_plan(facts)
    assert kept is not None
    return plan_drift(kept, facts), kept


def test_a_plan_just_made_stands(demo_shop_plan):
    drift, _ = drift_at(MOMENT)
    assert drift.sentence == ""
    assert not drift.has_changed


def test_what_changed_is_named(demo_shop_plan, odile):
    task = Task.objects.get(code="W34")
    change_task(by=odile, task=task, version=task.version, now=MOMENT, points=1)
    drift, _ = drift_at(MOMENT)
    assert drift.has_changed
    assert drift.sentence == "Changed since edition A: W34."


def test_an_evening_on_which_nothing_was_done_is_behind(demo_shop_plan):
    drift, kept = drift_at(MOMENT + timedelta(days=1))
    assert drift.behind_minutes == 180
    spare = kept.story.in_hand_minutes
    assert spare is not None
    assert drift.in_hand_minutes == spare - 180
    assert drift.sentence.startswith("3 h behind the plan: in hand ")
