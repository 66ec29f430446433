"""What lies on the shelf in the tests of its actions."""

from __future__ import annotations

from datetime import date

import pytest

from fabshop.records.shelf import Consumable, Tray
from fabshop.records.task import Task
from tests.factories import (
    ConsumableFactory,
    NeedFactory,
    ShelfMoveFactory,
    TaskFactory,
    TrayFactory,
)


@pytest.fixture
def resin(db: None) -> Consumable:
    """410 g that is good until Thu 16 Sep."""
    thing = ConsumableFactory(code="C01", use_by_on=date(2027, 9, 16))
    ShelfMoveFactory(consumable=thing, change_milli=410_000)
    return thing


@pytest.fixture
def stale(db: None) -> Consumable:
    """40 g that went off three days ago."""
    thing = ConsumableFactory(
        code="C05", name="Potting resin", use_by_on=date(2027, 8, 31)
    )
    ShelfMoveFactory(consumable=thing, change_milli=40_000)
    return thing


@pytest.fixture
def nuts(db: None) -> Tray:
    """Twelve nuts."""
    tray = TrayFactory(code="F04", size="M4 nylon nut", kind="nut", is_single_use=True)
    ShelfMoveFactory(consumable=None, tray=tray, change_milli=12_000)
    return tray


@pytest.fixture
def potting(stale: Consumable) -> Task:
    """The task that uses what has gone off."""
    task = TaskFactory(code="W17", title="Solder and pot lamp pods")
    NeedFactory(task=task, kind="rack", line=None, rack_code="C05")
    return task
