"""What stands beside an answer."""

from __future__ import annotations

import json

from fabshop.reckoning.facts import DayFact
from tests.reckoning.facts_for import day
from tests.reckoning.planning.planned import plan_of, small_shop


def test_it_is_plain_data_with_every_way_of_every_task():
    beside = plan_of(small_shop())["beside"]
    assert json.loads(json.dumps(beside)) == beside
    assert set(beside["tasks"]["pod"]["ways"]) == {"final", "plan-b"}
    assert beside["tasks"]["pod"]["ways"]["plan-b"]["title"] == "Refit old pod"
    assert beside["lines"] == {
        "P1/1": {"order": "P1", "title": beside["lines"]["P1/1"]["title"]}
    }
    assert beside["tails"]["mould"]["cure"] == 300


def test_days_lost_are_said():
    days = (DayFact(day(1), is_off=True), DayFact(day(2), is_off=True))
    notes = plan_of(small_shop(days=days))["beside"]["notes"]
    assert "2 days off are taken out of the hours." in notes
