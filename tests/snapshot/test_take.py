"""The shop is taken in a fixed number of queries, and only as far as it is live."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from fabshop import words
from fabshop.reckoning.facts import FinishedTask
from fabshop.reckoning.readiness import readiness
from fabshop.snapshot import take
from tests.factories import (
    MOMENT,
    AfterFactory,
    BuildFactory,
    ComponentFactory,
    CoverFactory,
    DayFactory,
    EstimateFactory,
    FallbackFactory,
    FasteningFactory,
    HoldSigningFactory,
    LogEntryFactory,
    NeedFactory,
    OrderLineFactory,
    PersonFactory,
    PromiseFactory,
    ReceiptFactory,
    SettlementFactory,
    ShopFactory,
    SiteFactory,
    StageFactory,
    TaskFactory,
    TimerFactory,
    WindowFactory,
)

pytestmark = pytest.mark.django_db


def grow(times, *, state=words.BuildState.LIVE):
    """A build with so many of everything."""
    build = BuildFactory(state=state)
    owner = PersonFactory()
    for number in range(times):
        under = ComponentFactory(build=build)
        CoverFactory(under=under, cover=ComponentFactory(build=build))
        FasteningFactory(component=under)
        task = TaskFactory(build=build, is_hold=True)
        EstimateFactory(task=task)
        StageFactory(task=task)
        FallbackFactory(task=task)
        AfterFactory(task=task, before=TaskFactory(build=build))
        SiteFactory(task=task, component=under)
        HoldSigningFactory(task=task, person=owner)
        line = OrderLineFactory(order__build=build)
        NeedFactory(task=task, line=line)
        PromiseFactory(order=line.order, line=line)
        ReceiptFactory(line=line)
        again = OrderLineFactory(order__build=build)
        SettlementFactory(line=line, reordered_on=again)
        LogEntryFactory(task=task, minutes=10, kind=words.EntryKind.STOP, person=owner)
        TimerFactory(start__task=task)
        WindowFactory(person=owner, on=date(2027, 9, 4) + timedelta(days=number))
        finished = TaskFactory(
            build=build, state=words.TaskState.DONE, done_at=MOMENT, family="welding"
        )
        EstimateFactory(task=finished, minutes=60)
        LogEntryFactory(
            task=finished, minutes=90, kind=words.EntryKind.STOP, person=owner
        )
    return build


def queries():
    with CaptureQueriesContext(
        connection,
    ) as seen:
        facts = take(MOMENT)
    return len(seen), facts


def test_the_number_of_queries_does_not_grow_with_the_shop():
    ShopFactory()
    DayFactory()
    grow(1)
    few, small = queries()
    grow(6)
    grow(9, state=words.BuildState.CLOSED)
    many, large = queries()
    assert few == many <= 32
    assert len(large.tasks) > 5 * len(small.tasks)


def test_an_empty_house_and_an_empty_shop_are_taken_too():
    facts = take(MOMENT)
    assert (facts.now, facts.tasks) == (datetime(2027, 9, 3, 5, 45), ())
    ShopFactory(delivery_minute=600, teardown_setup_minutes=20, factor_bites_after=3)
    facts = take(MOMENT)
    assert facts.now == datetime(2027, 9, 3, 6, 45)
    assert facts.utc_offset_minutes == 60
    settings = facts.delivery_minute, facts.setup_minutes, facts.factor_bites_after
    assert settings == (600, 20, 3)


def test_closed_builds_are_not_read_but_teach_their_factors():
    ShopFactory()
    grow(2, state=words.BuildState.CLOSED)
    facts = take(MOMENT)
    assert facts.builds == facts.components == facts.tasks == ()
    assert facts.finished == (FinishedTask("welding", 60, 90),) * 2


def test_the_log_is_counted():
    ShopFactory()
    LogEntryFactory.create_batch(3)
    assert take(MOMENT).entries == 3


def test_what_is_taken_can_be_reckoned_with():
    ShopFactory()
    build = grow(2)
    codes = set(build.tasks.unfinished().values_list("code", flat=True))
    assert set(readiness(take(MOMENT))) == codes
