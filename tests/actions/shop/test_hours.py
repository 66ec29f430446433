from datetime import date, datetime

import pytest

from fabshop.actions.shop import (
    add_window,
    remove_window,
    set_day,
    set_weekly_hours,
)
from fabshop.errors import BadInput, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.shop import Day, Person, Window

FRIDAY = date(2027, 9, 3)
SATURDAY = date(2027, 9, 4)


def hours() -> list[tuple[date, int, int]]:
    return list(Window.objects.values_list("on", "from_minute", "to_minute"))


def test_hours_are_kept_and_logged(owner: Person, now: datetime) -> None:
    window, notice = add_window(
        by=owner,
        person=owner,
        on=FRIDAY,
        from_minute=19 * 60,
        to_minute=22 * 60,
        now=now,
    )
    assert hours() == [(FRIDAY, 1140, 1320)]
    assert (window.person, notice) == (owner, "")
    assert LogEntry.objects.get().text == (
        "Hours of Olive: Fri 3 Sep 2027 19:00 to 22:00."
    )


@pytest.mark.parametrize(
    ("start", "end", "merged"),
    [
        (1080, 1200, (1080, 1320)),
        (1200, 1260, (1140, 1320)),
        (1320, 1380, (1140, 1380)),
        (600, 1440, (600, 1440)),
        (1140, 1320, (1140, 1320)),
    ],
)
def test_row_15_hours_that_overlap_or_touch_are_merged_with_a_notice(
    owner: Person, now: datetime, start: int, end: int, merged: tuple[int, int]
) -> None:
    add_window(
        by=owner,
        person=owner,
        on=FRIDAY,
        from_minute=1140,
        to_minute=1320,
        note="tonight",
        now=now,
    )
    window, notice = add_window(
        by=owner, person=owner, on=FRIDAY, from_minute=start, to_minute=end, now=now
    )
    assert hours() == [(FRIDAY, *merged)]
    assert notice.startswith("Merged with 19:00 to 22:00: now ")
    assert window.note == "tonight"


def test_hours_that_bridge_two_become_one(owner: Person, now: datetime) -> None:
    for start, end in [(540, 600), (660, 720)]:
        add_window(
            by=owner, person=owner, on=FRIDAY, from_minute=start, to_minute=end, now=now
        )
    _, notice = add_window(
        by=owner, person=owner, on=FRIDAY, from_minute=590, to_minute=700, now=now
    )
    assert hours() == [(FRIDAY, 540, 720)]
    assert notice == (
        "Merged with 09:00 to 10:00, 11:00 to 12:00: now 09:00 to 12:00 "
        "on Fri 3 Sep 2027."
    )


def test_hours_of_another_person_stay_apart(
    owner: Person, helper: Person, now: datetime
) -> None:
    for person in (owner, helper):
        add_window(
            by=owner,
            person=person,
            on=FRIDAY,
            from_minute=600,
            to_minute=720,
            now=now,
        )
    assert len(hours()) == 2


@pytest.mark.parametrize("end", [120, 1440 + 120])
def test_row_15_hours_over_midnight_are_split(
    owner: Person, now: datetime, end: int
) -> None:
    window, notice = add_window(
        by=owner, person=owner, on=FRIDAY, from_minute=1320, to_minute=end, now=now
    )
    assert hours() == [(FRIDAY, 1320, 1440), (SATURDAY, 0, 120)]
    assert window.on == FRIDAY
    assert notice == "Split at midnight: until 02:00 on Sat 4 Sep 2027."


def test_hours_until_midnight_are_of_one_day(owner: Person, now: datetime) -> None:
    _, notice = add_window(
        by=owner, person=owner, on=FRIDAY, from_minute=1320, to_minute=0, now=now
    )
    assert (hours(), notice) == ([(FRIDAY, 1320, 1440)], "")


@pytest.mark.parametrize(
    ("start", "end", "field"),
    [
        (1020, 540, "to_minute"),
        (600, 600, "to_minute"),
        (-1, 60, "from_minute"),
        (1440, 1500, "from_minute"),
        (60, -5, "to_minute"),
        (60, 2881, "to_minute"),
        (60, 1501, "to_minute"),
    ],
)
def test_hours_that_cannot_be_are_refused(
    owner: Person, now: datetime, start: int, end: int, field: str
) -> None:
    with pytest.raises(BadInput) as refused:
        add_window(
            by=owner, person=owner, on=FRIDAY, from_minute=start, to_minute=end, now=now
        )
    assert refused.value.field == field
    assert not hours()


def test_row_15_hours_that_end_before_they_begin_are_said_back(
    owner: Person, now: datetime
) -> None:
    with pytest.raises(BadInput, match="end before they begin: 17:00 to 09:00"):
        add_window(
            by=owner,
            person=owner,
            on=FRIDAY,
            from_minute=1020,
            to_minute=540,
            now=now,
        )


def test_only_the_owner_changes_hours(helper: Person, now: datetime) -> None:
    with pytest.raises(NotAllowed):
        add_window(
            by=helper, person=helper, on=FRIDAY, from_minute=0, to_minute=60, now=now
        )
    with pytest.raises(NotAllowed):
        set_day(by=helper, on=FRIDAY, now=now, is_off=True)


def test_hours_are_taken_out_and_a_second_time_is_harmless(
    owner: Person, now: datetime
) -> None:
    window, _ = add_window(
        by=owner, person=owner, on=FRIDAY, from_minute=600, to_minute=720, now=now
    )
    gone = Window.objects.get(pk=window.pk)
    remove_window(by=owner, window=window, now=now)
    remove_window(by=owner, window=gone, now=now)
    assert not hours()
    assert LogEntry.objects.count() == 2


def test_weekly_hours_replace_those_of_their_days_only(
    owner: Person, helper: Person, now: datetime
) -> None:
    for person, on in [(owner, FRIDAY), (owner, date(2027, 9, 20)), (helper, FRIDAY)]:
        add_window(
            by=owner, person=person, on=on, from_minute=60, to_minute=120, now=now
        )
    made = set_weekly_hours(
        by=owner,
        person=owner,
        pattern={4: [(1140, 1320)], 5: [(540, 1020)]},
        from_on=FRIDAY,
        to_on=date(2027, 9, 10),
        now=now,
    )
    assert [(w.on.day, w.from_minute) for w in made] == [
        (3, 1140),
        (4, 540),
        (10, 1140),
    ]
    assert Window.objects.filter(person=helper).count() == 1
    assert Window.objects.filter(on=date(2027, 9, 20)).exists()


def test_weekly_hours_over_midnight_are_split(owner: Person, now: datetime) -> None:
    set_weekly_hours(
        by=owner,
        person=owner,
        pattern={4: [(1320, 60)]},
        from_on=FRIDAY,
        to_on=FRIDAY,
        now=now,
    )
    assert hours() == [(FRIDAY, 1320, 1440), (SATURDAY, 0, 60)]


@pytest.mark.parametrize(
    ("pattern", "to_on", "field"),
    [
        ({}, date(2027, 9, 2), "to_on"),
        ({}, date(2030, 9, 2), "to_on"),
        ({7: [(0, 60)]}, FRIDAY, "pattern"),
        ({4: [(600, 60)]}, FRIDAY, "to_minute"),
    ],
)
def test_weekly_hours_that_cannot_be_change_nothing(
    owner: Person,
    now: datetime,
    pattern: dict[int, list[tuple[int, int]]],
    to_on: date,
    field: str,
) -> None:
    add_window(
        by=owner, person=owner, on=FRIDAY, from_minute=60, to_minute=120, now=now
    )
    with pytest.raises(BadInput) as refused:
        set_weekly_hours(
            by=owner,
            person=owner,
            pattern=pattern,
            from_on=FRIDAY,
            to_on=to_on,
            now=now,
        )
    assert refused.value.field == field
    assert len(hours()) == 1


def test_a_day_keeps_what_is_not_named(owner: Person, now: datetime) -> None:
    set_day(by=owner, on=FRIDAY, now=now, has_deliveries=False)
    day = set_day(
        by=owner, on=FRIDAY, now=now, quiet_until_minute=660, may_run_machines=False
    )
    assert Day.objects.get() == day
    assert (day.has_deliveries, day.is_off) == (False, False)
    assert LogEntry.objects.first().text == (
        "Fri 3 Sep 2027: no deliveries, nothing left running, quiet until 11:00."
    )


@pytest.mark.parametrize(
    ("flags", "field"),
    [
        ({"quiet_until_minute": 1441}, "quiet_until_minute"),
        ({"quiet_until_minute": -1}, "quiet_until_minute"),
        ({"is_sunday": True}, "is_sunday"),
        ({"note": "x" * 201}, "note"),
    ],
)
def test_a_day_refuses_what_it_does_not_know(
    owner: Person, now: datetime, flags: dict[str, object], field: str
) -> None:
    with pytest.raises(BadInput) as refused:
        set_day(by=owner, on=FRIDAY, now=now, **flags)
    assert refused.value.field == field
