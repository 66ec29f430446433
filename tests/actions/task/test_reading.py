from datetime import datetime, timedelta
from decimal import Decimal

import pytest

from fabshop import words
from fabshop.actions.task.reading import refuse_unread, take_reading
from fabshop.errors import BadInput, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.task import Reading, ReadingTaken
from tests.factories import HoldSigningFactory, ReadingFactory

TICK, NUMBER = words.ReadingKind.TICK, words.ReadingKind.NUMBER


@pytest.fixture
def volts(owner: Person) -> Reading:
    return ReadingFactory(
        label="Voltage under load",
        kind=NUMBER,
        unit="V",
        low=Decimal("10.8"),
        high=Decimal("12.6"),
        task__code="W23",
    )


def test_a_helper_takes_a_reading_and_it_is_in_the_log(
    helper: Person, volts: Reading, now: datetime
) -> None:
    taken = take_reading(
        by=helper, reading=volts, value=Decimal("11.4"), now=now, client_id="r1"
    )
    assert (taken.value, taken.person) == (Decimal("11.4"), helper)
    entry = LogEntry.objects.get()
    assert (entry.task, entry.text) == (volts.task, "Voltage under load: 11.4 V")
    again = take_reading(
        by=helper, reading=volts, value=Decimal(9), now=now, client_id="r1"
    )
    assert again == taken
    assert ReadingTaken.objects.count() == 1


@pytest.mark.parametrize("value", [Decimal("NaN"), Decimal("Infinity"), Decimal(10**9)])
def test_what_is_no_figure_is_refused(
    helper: Person, volts: Reading, now: datetime, value: Decimal
) -> None:
    with pytest.raises(BadInput, match="Voltage under load: .* is no figure"):
        take_reading(by=helper, reading=volts, value=value, now=now)


def test_a_tick_is_one_or_nought(helper: Person, now: datetime) -> None:
    motor = ReadingFactory(label="Motor turns")
    with pytest.raises(BadInput, match="a tick is 1 and no tick is 0, not 2"):
        take_reading(by=helper, reading=motor, value=2, now=now)
    assert take_reading(by=helper, reading=motor, value=True, now=now).value == 1


def test_a_viewer_takes_none(viewer: Person, volts: Reading, now: datetime) -> None:
    with pytest.raises(NotAllowed):
        take_reading(by=viewer, reading=volts, value=11, now=now)


def test_every_reading_must_be_taken_and_the_missing_ones_are_named(
    owner: Person, volts: Reading, now: datetime
) -> None:
    motor = ReadingFactory(task=volts.task, number=2, label="Motor turns", kind=TICK)
    with pytest.raises(BadInput) as refused:
        refuse_unread(volts.task)
    assert [(e.field, e.message) for e in refused.value.errors] == [
        ("reading-1", "Voltage under load: not taken yet."),
        ("reading-2", "Motor turns: not taken yet."),
    ]
    take_reading(by=owner, reading=volts, value=Decimal("12.6"), now=now)
    take_reading(by=owner, reading=motor, value=0, now=now)
    with pytest.raises(BadInput, match="^Motor turns: not ticked.$"):
        refuse_unread(volts.task)
    take_reading(by=owner, reading=motor, value=1, now=now)
    refuse_unread(volts.task)


@pytest.mark.parametrize(
    ("value", "says"),
    [
        ("10.79", "Voltage under load: 10.79 V is below 10.8 V."),
        ("12.61", "Voltage under load: 12.61 V is above 12.6 V."),
    ],
)
def test_the_latest_figure_must_be_within_its_bounds(
    owner: Person, volts: Reading, now: datetime, value: str, says: str
) -> None:
    take_reading(by=owner, reading=volts, value=11, now=now)
    take_reading(by=owner, reading=volts, value=Decimal(value), now=now)
    with pytest.raises(BadInput) as refused:
        refuse_unread(volts.task)
    assert str(refused.value) == says
    assert refused.value.field == "reading-1"


def test_readings_from_before_the_last_fail_do_not_count(
    owner: Person, volts: Reading, now: datetime
) -> None:
    take_reading(by=owner, reading=volts, value=11, now=now)
    later = now + timedelta(minutes=1)
    HoldSigningFactory(task=volts.task, verdict=words.HoldVerdict.FAILED, at=later)
    with pytest.raises(BadInput, match="not taken yet"):
        refuse_unread(volts.task)
    take_reading(by=owner, reading=volts, value=11, now=now + timedelta(minutes=2))
    refuse_unread(volts.task)
