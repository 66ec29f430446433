"""A small build that can be planned: a lid over a deck, and a loom to lay in."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from fabshop.actions.plan import accept_plan, ask_teardown
from fabshop.records.build import Build
from fabshop.records.plan import Plan
from fabshop.records.shop import Person
from tests.factories import (
    BuildFactory,
    ComponentFactory,
    CoverFactory,
    EstimateFactory,
    SiteFactory,
    StageFactory,
    TaskFactory,
    WindowFactory,
)


@pytest.fixture
def wren(owner: Person, now: datetime) -> Build:
    """Pack-out in three days; evenings 18 to 21; the loom needs the lid off."""
    build: Build = BuildFactory(
        slug="wren", letter="R", pack_out_at=now + timedelta(days=3)
    )
    for days in range(3):
        on = (now + timedelta(days=days)).date()
        WindowFactory(person=owner, on=on, from_minute=1080, to_minute=1260)
    lid = ComponentFactory(build=build, code="R01", off_minutes=4, on_minutes=6)
    deck = ComponentFactory(build=build, code="R02", off_minutes=8, on_minutes=9)
    CoverFactory(under=deck, cover=lid)
    loom = TaskFactory(build=build, code="W01", in_teardown=True, family="other")
    StageFactory(task=loom, number=1, kind="hands-on", minutes=60)
    EstimateFactory(task=loom, minutes=60)
    SiteFactory(task=loom, component=deck, kind="remove")
    return build


@pytest.fixture
def accepted(wren: Build, owner: Person, now: datetime) -> Plan:
    asked = ask_teardown(by=owner, build=wren, now=now)
    return accept_plan(by=owner, plan=asked, now=now)
