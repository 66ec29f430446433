"""What the page of the plan shows of each day."""

from __future__ import annotations

from datetime import timedelta

import pytest

from fabshop.snapshot import take
from fabshop.snapshot.kept_plan import kept_plan
from fabshop.web.schedule_page import plan_page
from tests.factories import MOMENT

pytestmark = pytest.mark.django_db


@pytest.fixture
def told(demo_shop_plan):
    facts = take(MOMENT)
    kept = kept_plan(facts)
    assert kept is not None
    return plan_page(kept, facts, MOMENT), kept


def test_no_day_has_more_work_than_hours(told):
    context, kept = told
    bench = kept.story.bench
    for day in context["days"]:
        begins = kept.story.origin.replace(
            year=day.on.year, month=day.on.month, day=day.on.day, hour=0, minute=0
        )
        ends = begins + timedelta(days=1)
        there = bench.minutes_until(ends) - bench.minutes_until(begins)
        assert day.minutes <= there
    assert sum(day.minutes for day in context["days"]) == kept.story.worked_minutes


def test_a_run_says_until_when_and_on_which_machine(told):
    context, _ = told
    says = [says for day in context["days"] for line in day.lines for says in line.says]
    assert any("print-" in one and "runs until" in one for one in says)
    assert any("cures until" in one for one in says)


def test_the_teardown_says_where_it_lies_and_by_when_it_starts(told):
    context, _ = told
    (session,) = context["sessions"]
    assert session["build"] == "Tuppence"
    assert session["begins"] <= session["by"]
