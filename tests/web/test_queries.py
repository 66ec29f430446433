"""Every page takes the same number of queries however much the shop holds."""

from __future__ import annotations

from datetime import datetime

from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from fabshop.actions.years import add_closed_years
from fabshop.records.build import Build
from fabshop.records.plan import Plan
from fabshop.records.shop import Person
from tests.factories import (
    AfterFactory,
    ComponentFactory,
    CoverFactory,
    EstimateFactory,
    FallbackFactory,
    FasteningFactory,
    LogEntryFactory,
    NeedFactory,
    OrderFactory,
    OrderLineFactory,
    PromiseFactory,
    ReceiptFactory,
    SiteFactory,
    StageFactory,
    TaskFactory,
)
from tests.web.addresses import addresses

MORE = 8


def counted(client: Client, paths: list[str]) -> dict[str, int]:
    found = {}
    for path in paths:
        with CaptureQueriesContext(connection) as seen:
            answer = client.get(path)
        if answer.status_code == 200:
            found[path] = len(seen)
    return found


def grown(owner: Person, now: datetime) -> None:
    """More of everything that is open, and closed builds beside it."""
    build = Build.objects.get(slug="tuppence")
    lid = ComponentFactory(build=build, code="T90")
    before = TaskFactory(build=build, code="W900")
    for number in range(MORE):
        part = ComponentFactory(build=build, code=f"T9{number}1", state="stand-in")
        CoverFactory(under=part, cover=lid)
        FasteningFactory(component=part)
        order = OrderFactory(code=f"P9{number}", move="firm", sent_on=now.date())
        line = OrderLineFactory(order=order, number=1, component=part)
        PromiseFactory(order=order, eta_on=now.date())
        come = OrderLineFactory(order=order, number=2)
        ReceiptFactory(line=come)
        task = TaskFactory(build=build, code=f"W9{number}1")
        StageFactory(task=task, number=1, kind="hands-on", minutes=30)
        EstimateFactory(task=task, minutes=30)
        AfterFactory(task=task, before=before)
        NeedFactory(task=task, kind="order", line=line)
        SiteFactory(task=task, component=part, kind="fits")
        FallbackFactory(task=task)
        LogEntryFactory(person=owner, task=task, build=build)
    add_closed_years(by=owner, now=now, components=40, tasks=40, entries=80, lines=40)


def test_no_page_asks_more_of_a_fuller_shop(
    client: Client, odile: Person, demo_plan: Plan, frozen: object, now: datetime
) -> None:
    client.force_login(odile)
    paths = addresses()
    client.get("/")  # what is read once a process is not counted
    small = counted(client, paths)
    assert len(small) > 45
    grown(odile, now)
    full = counted(client, paths)
    more = {
        path: (small[path], full.get(path))
        for path in small
        if full.get(path, 0) > small[path]
    }
    assert more == {}
