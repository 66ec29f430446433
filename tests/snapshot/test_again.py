"""Row 9 of the bad input: what lies over a hold that did not pass must come off."""

from __future__ import annotations

from datetime import datetime, timedelta
from typing import Any

import pytest

from fabshop.actions.build import put_on, take_off
from fabshop.actions.log import undo_entry
from fabshop.actions.task import fail_hold, waive_hold
from fabshop.records.build import Component
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.task import Task
from fabshop.snapshot import must_come_off, take

pytestmark = pytest.mark.django_db


def part(code: str) -> Component:
    return Component.objects.get(code=code)


def test_row_9_what_is_on_over_a_failed_hold_must_come_off_again(
    odile: Person, now: datetime
) -> None:
    assert must_come_off(take(now), "tuppence") == ()
    take_off(by=odile, component=part("T11"), now=now, with_covers=True)
    hold = Task.objects.get(code="W23")
    fail_hold(by=odile, task=hold, reason="lamp out", now=now)
    found = {again.component: again for again in must_come_off(take(now), "tuppence")}
    assert {"T02", "T10", "T14", "T20"} <= set(found)
    assert "T11" not in found, "it is off"
    assert found["T10"].hold == "W23"


def test_what_was_put_on_for_now_is_told_with_its_reason_until_the_hold_is_passed(
    odile: Person, now: datetime
) -> None:
    take_off(by=odile, component=part("T11"), now=now, with_covers=True)
    put_on(by=odile, component=part("T11"), now=now, for_now="rolled to the yard")
    (again,) = must_come_off(take(now), "tuppence")
    assert (again.component, again.hold) == ("T11", "W23")
    assert "rolled to the yard" in again.why
    waive_hold(by=odile, task=Task.objects.get(code="W23"), reason="old loom", now=now)
    assert must_come_off(take(now), "tuppence") == ()


def test_an_undone_put_on_is_forgotten(
    odile: Person, now: datetime, django_assert_num_queries: Any
) -> None:
    take_off(by=odile, component=part("T11"), now=now, with_covers=True)
    put_on(by=odile, component=part("T11"), now=now, for_now="photo", client_id="p")
    later = now + timedelta(minutes=2)
    undo_entry(by=odile, entry=LogEntry.objects.get(client_id="p"), now=later)
    facts = take(later)
    with django_assert_num_queries(1):
        assert must_come_off(facts, "tuppence") == ()
