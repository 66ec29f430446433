"""Years of closed work fill the shop without changing what is open."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop.actions.years import add_closed_years
from fabshop.errors import NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.snapshot import take


def test_closed_years_leave_the_open_shop_as_it_was(
    owner: Person, now: datetime
) -> None:
    before = take(now)
    add_closed_years(by=owner, now=now, components=40, tasks=30, entries=60, lines=20)
    after = take(now)
    assert LogEntry.objects.count() == 60
    assert (after.tasks, after.components, after.orders) == (
        before.tasks,
        before.components,
        before.orders,
    )


def test_only_the_owner_fills_the_shop(helper: Person, now: datetime) -> None:
    with pytest.raises(NotAllowed):
        add_closed_years(by=helper, now=now)
