"""The owner overrules a last good day for one task, with a reason that stays."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from fabshop.actions.shelf import let_through
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.shelf import Consumable
from fabshop.records.shop import Person
from fabshop.records.task import Task

pytestmark = pytest.mark.django_db


def test_the_reason_and_the_day_that_had_passed_stay(
    stale: Consumable, potting: Task, owner: Person, now: datetime
) -> None:
    """Row 44."""
    waiver = let_through(
        by=owner, consumable=stale, task=potting, reason="test set hard", now=now
    )
    assert (waiver.last_good_on, waiver.reason) == (date(2027, 8, 31), "test set hard")
    assert LogEntry.objects.get().text == (
        "C05 Potting resin, gone off Tue 31 Aug, is used all the same: test set hard"
    )


def test_it_is_the_owners_and_wants_a_reason(
    stale: Consumable, potting: Task, owner: Person, helper: Person, now: datetime
) -> None:
    with pytest.raises(NotAllowed):
        let_through(by=helper, consumable=stale, task=potting, reason="x", now=now)
    with pytest.raises(BadInput, match="Reason: nothing is written"):
        let_through(by=owner, consumable=stale, task=potting, reason=" ", now=now)


def test_what_is_good_needs_no_overruling(
    resin: Consumable, potting: Task, owner: Person, now: datetime
) -> None:
    with pytest.raises(Clash, match="has not gone off"):
        let_through(by=owner, consumable=resin, task=potting, reason="x", now=now)
