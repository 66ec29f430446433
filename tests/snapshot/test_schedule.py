"""What the plan stands on besides the facts."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

import pytest

from fabshop import words
from fabshop.records.packout import Spare
from fabshop.records.schedule import Presence
from fabshop.snapshot import take
from fabshop.snapshot.schedule import besides, stands_on
from tests.factories import MOMENT, DayFactory, TaskFactory

pytestmark = pytest.mark.django_db


def test_presence_is_told_for_each_day_that_somebody_is_in(shop):
    Presence.objects.create(weekday=4, from_minute=405, to_minute=450)
    facts = take(MOMENT)
    spans = besides(facts, MOMENT).attended
    assert spans[0].start == facts.now
    assert [span.start.weekday() for span in spans] == [4] * len(spans)


def test_nobody_is_in_on_a_day_off(shop):
    Presence.objects.create(weekday=5, from_minute=405, to_minute=450)
    on = take(MOMENT).now.date() + timedelta(days=1)
    assert besides(take(MOMENT), MOMENT).attended[0].start.date() == on
    DayFactory(on=on, may_run_machines=False)
    assert besides(take(MOMENT), MOMENT).attended[0].start.date() > on


def test_spares_are_stores_by_the_piece(shop):
    Spare.objects.create(code="SP1", title="Old pod", quantity=2)
    (store,) = besides(take(MOMENT), MOMENT).stores
    assert (store.id, store.amount_milli, store.is_spare) == ("SP1", 2000, True)


def test_a_fingerprint_names_what_has_changed_and_not_what_is_done(shop):
    task = TaskFactory(code="W1")
    facts = take(MOMENT)
    before = stands_on(facts)
    assert set(before) >= {"W1"}
    begun = replace(facts.task_by_id["W1"], logged=30, state=words.TaskState.UNDER_WAY)
    assert stands_on(replace(facts, tasks=(begun,)))["W1"] == before["W1"]
    other = replace(facts.task_by_id["W1"], minutes=999)
    assert stands_on(replace(facts, tasks=(other,)))["W1"] != before["W1"]
    assert task.code == "W1"
