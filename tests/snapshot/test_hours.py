"""Windows become spans of the plan's clock, owners' apart from helpers'."""

from __future__ import annotations

from datetime import date, datetime

from fabshop import words
from fabshop.reckoning.facts import DayFact, Span
from fabshop.snapshot import plan_clock
from fabshop.snapshot.build import build_facts
from fabshop.snapshot.hours import calendar
from tests.factories import (
    MOMENT,
    BuildFactory,
    DayFactory,
    PersonFactory,
    WindowFactory,
)

NOW = datetime(2027, 9, 3, 6, 45)


def read(*builds):
    clock = plan_clock(MOMENT)
    return calendar(build_facts(list(builds), clock), clock, NOW)


def on(day, *, start=19 * 60, end=22 * 60, person):
    return WindowFactory(
        person=person, on=date(2027, 9, day), from_minute=start, to_minute=end
    )


def test_the_owners_hours_that_are_not_over_are_the_windows(owner):
    on(3, start=6 * 60, end=7 * 60, person=owner)
    on(3, start=5 * 60, end=6 * 60, person=owner)
    on(4, start=23 * 60, end=24 * 60, person=owner)
    assert read().windows == (
        Span(datetime(2027, 9, 3, 6), datetime(2027, 9, 3, 7)),
        Span(datetime(2027, 9, 4, 23), datetime(2027, 9, 5)),
    )


def test_helpers_hours_stand_by_name_and_viewers_have_none(owner, helper, viewer):
    for person in (helper, viewer):
        on(4, person=person)
    found = read()
    assert [name for name, _ in found.helper_windows] == ["Hal"]
    assert found.windows == ()


def test_who_is_retired_has_no_hours(shop):
    gone = PersonFactory(role=words.Role.OWNER, is_active=False)
    on(4, person=gone)
    assert read().windows == ()


def test_past_windows_reach_back_ninety_days_before_the_first_pack_out(owner):
    build = BuildFactory(pack_out_at=MOMENT)
    WindowFactory(person=owner, on=date(2027, 6, 5))  # 90 days before
    WindowFactory(person=owner, on=date(2027, 6, 4))
    found = read(build)
    assert [span.start.date() for span in found.past_windows] == [date(2027, 6, 5)]
    assert read().past_windows == ()


def test_days_out_of_the_ordinary_are_told_with_their_quiet_hours(shop):
    DayFactory(
        on=date(2027, 9, 5),
        has_deliveries=False,
        may_run_machines=False,
        quiet_until_minute=11 * 60,
    )
    DayFactory(on=date(2027, 9, 2))
    assert read().days == (
        DayFact(
            on=date(2027, 9, 5),
            has_deliveries=False,
            may_run_machines=False,
            quiet_until=datetime(2027, 9, 5, 11),
        ),
    )
