"""The kept plan as it stands now."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from fabshop.reckoning.tonight import ByPlan, TeardownStand
from fabshop.snapshot import take
from fabshop.snapshot.kept_plan import (
    by_plan_of,
    kept_plan,
    planned_moments,
    planned_stands,
    told,
)
from tests.factories import MOMENT

pytestmark = pytest.mark.django_db


def test_there_is_none_before_one_is_asked_for(shop, django_assert_num_queries):
    facts = take(MOMENT)
    with django_assert_num_queries(1):
        assert kept_plan(facts) is None
    assert planned_moments(facts, None, {"W1": MOMENT}) == {"W1": MOMENT}


def test_it_is_told_on_likely_and_on_late_days(demo_shop_plan):
    facts = take(MOMENT)
    kept = kept_plan(facts)
    assert kept is not None
    assert kept.plan == demo_shop_plan
    assert kept.late is not None
    assert kept.shift == timedelta()


def test_moments_move_with_the_clock_of_today(demo_shop_plan):
    kept = told(demo_shop_plan, demo_shop_plan.utc_offset_minutes - 60)
    assert kept.now_at(kept.story.origin) == kept.story.origin - timedelta(hours=1)


def test_a_task_is_needed_begun_by_when_the_plan_needs_its_parts(demo_shop_plan):
    facts = take(MOMENT)
    kept = kept_plan(facts)
    assert kept is not None
    moments = planned_moments(facts, kept, {})
    for line, (by, _) in kept.story.needed.items():
        for task in facts.tasks:
            if any(need.name == line for need in task.needs) and task.id in moments:
                assert moments[task.id] <= by


def test_teardowns_stand_as_the_plan_puts_them(demo_shop_plan):
    facts = take(MOMENT)
    kept = kept_plan(facts)
    accepted = TeardownStand("tuppence", "Tuppence", facts.now, 122)
    begun = replace(accepted, has_begun=True)
    assert planned_stands(facts, None, [accepted]) == (accepted,)
    assert planned_stands(facts, kept, [begun]) == (begun,)
    (stand,) = planned_stands(facts, kept, [accepted])
    first = next(row for row in kept.story.rows if row.session == "tuppence")
    assert stand.start_by == kept.story.latest_start_of(first)
    assert stand.in_plan
    assert stand.in_hand_minutes >= 0


def test_an_order_that_the_plan_does_without_is_named(demo_shop_plan):
    facts = take(MOMENT)
    kept = kept_plan(facts)
    told = by_plan_of(facts, kept)
    waited = {line.partition("/")[0] for line in kept.story.needed}
    assert told.without
    assert not told.without & waited
    for line, (at, _) in told.needed.items():
        assert at == kept.now_at(kept.story.needed[line][0])
    assert by_plan_of(facts, None) == ByPlan()
