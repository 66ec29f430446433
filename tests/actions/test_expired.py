"""A task that uses what has gone off is not started or done, unless it was let."""

from __future__ import annotations

from datetime import date, datetime

import pytest

from fabshop.actions.expired import gone_off_for, shop_day
from fabshop.actions.log import finish_work, start_work
from fabshop.actions.shelf import let_through
from fabshop.errors import Clash
from fabshop.records.shelf import Consumable
from fabshop.records.shop import Person
from fabshop.records.task import Task
from tests.factories import ConsumableFactory, NeedFactory, TaskFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def stale(db: None) -> Consumable:
    return ConsumableFactory(
        code="C05", name="Potting resin", use_by_on=date(2027, 8, 31)
    )


@pytest.fixture
def potting(stale: Consumable) -> Task:
    task = TaskFactory(code="W17")
    NeedFactory(task=task, kind="rack", line=None, rack_code="C05")
    return task


def test_it_is_neither_started_nor_done(
    potting: Task, helper: Person, now: datetime
) -> None:
    """Row 44: warned when planned, held when used."""
    for verb in (start_work, finish_work):
        with pytest.raises(Clash, match="Held: W17 uses C05 Potting resin") as held:
            verb(by=helper, task=potting, now=now)
        assert held.value.code == "gone-off"


def test_let_through_it_is_worked_on(
    stale: Consumable, potting: Task, owner: Person, helper: Person, now: datetime
) -> None:
    let_through(by=owner, consumable=stale, task=potting, reason="hard", now=now)
    start_work(by=helper, task=potting, now=now)
    finish_work(by=helper, task=potting, now=now)
    potting.refresh_from_db()
    assert potting.state == "done"


def test_what_is_good_on_its_last_day_or_unknown_is_not_held(
    potting: Task, stale: Consumable, helper: Person, now: datetime
) -> None:
    """Row 45: unknown warns, and only what has gone off is held."""
    for last_on in (date(2027, 9, 3), None):
        Consumable.objects.update(use_by_on=last_on)
        assert gone_off_for(potting, shop_day(now)) == []


def test_what_is_gone_from_the_shelf_holds_nothing(
    potting: Task, stale: Consumable, now: datetime
) -> None:
    Consumable.objects.update(retired_at=now, retired_why="thrown away")
    assert gone_off_for(potting, shop_day(now)) == []
