"""What comes in late is booked at its true time, in whatever order it arrives."""

from __future__ import annotations

from collections import Counter
from datetime import datetime, timedelta

import pytest
from django.db import transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as some

from fabshop.actions.log import finish_work, start_work, stop_work, undo_entry
from fabshop.actions.log.late import is_late
from fabshop.errors import Clash
from fabshop.records.log import LogEntry, Timer
from fabshop.records.shop import Person
from tests.factories import MOMENT, TaskFactory

pytestmark = pytest.mark.django_db
EVENING = MOMENT - timedelta(hours=12)


def at(minute: int) -> datetime:
    return EVENING + timedelta(minutes=minute)


def booked() -> Counter[tuple[str, str]]:
    found: Counter[tuple[str, str]] = Counter()
    stops = LogEntry.objects.filter(kind="stop", reversed_by=None)
    for stop in stops.select_related("person", "task"):
        assert stop.task is not None and stop.minutes is not None
        found[stop.person.name, stop.task.code] += stop.minutes
    return found


# Sessions of one person lie one after another; each is tapped on one of two phones.
SESSIONS = some.lists(
    some.tuples(
        some.integers(0, 20),  # minutes of rest before it
        some.integers(3, 80),  # its length
        some.sampled_from(["W1", "W2", "W3"]),
        some.integers(0, 1),  # which phone
    ),
    max_size=5,
)


@settings(
    max_examples=60,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
)
@given(olives=SESSIONS, hals=SESSIONS, order=some.randoms(use_true_random=False))
def test_two_people_with_two_phones_each_are_booked_right_in_any_order(
    olives: list[tuple[int, int, str, int]],
    hals: list[tuple[int, int, str, int]],
    order: object,
    owner: Person,
    helper: Person,
) -> None:
    wanted: Counter[tuple[str, str]] = Counter()
    phones: dict[tuple[Person, int], list[tuple[str, str, datetime]]] = {}
    for person, sessions in ((owner, olives), (helper, hals)):
        clock = 0
        for rest, length, code, phone in sessions:
            clock += rest
            taps = phones.setdefault((person, phone), [])
            taps.append(("start", code, at(clock)))
            clock += length
            taps.append(("stop", code, at(clock)))
            wanted[person.name, code] += length
    with transaction.atomic():
        tasks = {code: TaskFactory(code=code) for code in ("W1", "W2", "W3")}
        while phones:
            # Each phone sends its own in order; the phones come in as they please.
            who = order.choice(sorted(phones, key=lambda k: (k[0].pk, k[1])))  # type: ignore[attr-defined]
            verb, code, when = phones[who].pop(0)
            if not phones[who]:
                del phones[who]
            act = start_work if verb == "start" else stop_work
            act(by=who[0], task=tasks[code], now=MOMENT, at=when)
        assert booked() == wanted
        assert not Timer.objects.exists()
        transaction.set_rollback(True)


def test_late_is_what_nobody_waits_for_any_more() -> None:
    assert not is_late(MOMENT - timedelta(minutes=1), MOMENT)
    assert is_late(MOMENT - timedelta(minutes=3), MOMENT)


def test_a_late_start_leaves_the_timer_of_now_alone(owner: Person) -> None:
    first, then = TaskFactory(code="W1"), TaskFactory(code="W2")
    running = start_work(by=owner, task=then, now=MOMENT)
    start_work(by=owner, task=first, now=MOMENT, at=at(0))
    assert Timer.objects.get().start == running
    stop = stop_work(by=owner, task=first, now=MOMENT, at=at(40))
    assert (stop.minutes, stop.at) == (40, at(40))
    assert Timer.objects.get().start == running


def test_a_late_start_is_ended_by_the_done_that_follows_it(owner: Person) -> None:
    first, then = TaskFactory(code="W1"), TaskFactory(code="W2")
    start_work(by=owner, task=then, now=MOMENT)
    start_work(by=owner, task=first, now=MOMENT, at=at(0))
    finish_work(by=owner, task=first, now=MOMENT, at=at(25))
    assert booked() == {(owner.name, "W1"): 25}
    first.refresh_from_db()
    assert first.done_at == at(25)


def test_a_late_start_joins_who_is_on_it_without_asking(
    owner: Person, helper: Person
) -> None:
    task = TaskFactory(code="W1")
    start_work(by=helper, task=task, now=MOMENT)
    start = start_work(by=owner, task=task, now=MOMENT, at=at(0))
    assert Timer.objects.filter(start=start).exists()


def test_two_late_taps_of_one_hand_are_one_start(owner: Person) -> None:
    task = TaskFactory(code="W1")
    first = start_work(by=owner, task=task, now=MOMENT, at=at(0))
    tap = at(0) + timedelta(seconds=2)
    assert start_work(by=owner, task=task, now=MOMENT, at=tap) == first


def test_a_mark_is_undone_unless_its_stop_has_come(owner: Person) -> None:
    task, then = TaskFactory(code="W1"), TaskFactory(code="W2")
    start_work(by=owner, task=then, now=MOMENT)
    mark = start_work(by=owner, task=task, now=MOMENT, at=at(0))
    stop = stop_work(by=owner, task=task, now=MOMENT, at=at(10))
    with pytest.raises(Clash, match="undo the stop first"):
        undo_entry(by=owner, entry=mark, now=MOMENT)
    undo_entry(by=owner, entry=stop, now=MOMENT)
    undo_entry(by=owner, entry=mark, now=MOMENT)
    with pytest.raises(Clash, match="You are on"):
        stop_work(by=owner, task=task, now=MOMENT, at=at(10))


def test_two_taps_close_together_that_come_in_crossed_are_a_short_session(
    owner: Person,
) -> None:
    """Each is put right by the clock as it was read when it was sent."""
    task = TaskFactory(code="W1")
    start_work(by=owner, task=task, now=MOMENT, at=at(10))
    crossed = at(10) - timedelta(milliseconds=400)
    stop = stop_work(by=owner, task=task, now=MOMENT, at=crossed)
    assert (stop.minutes, stop.at) == (0, at(10))
