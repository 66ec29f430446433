from datetime import datetime, timedelta

import pytest

from fabshop import words
from fabshop.actions.log.timer import start_work, stop_work
from fabshop.errors import BadInput, Clash, NeedsAnswer, NotAllowed
from fabshop.records.log import LogEntry, Timer
from fabshop.records.shop import Person
from fabshop.records.task import Task
from tests.factories import EstimateFactory, TaskFactory


@pytest.fixture
def weld(owner: Person) -> Task:
    task = TaskFactory(code="W33", title="Weld the loop")
    EstimateFactory(task=task, minutes=100)
    return task


@pytest.fixture
def sand(owner: Person) -> Task:
    return TaskFactory(code="W03", title="Sand the mould")


def minutes(count: float) -> timedelta:
    return timedelta(minutes=count)


def test_a_stop_books_the_minutes_since_its_start(
    owner: Person, weld: Task, now: datetime
) -> None:
    start = start_work(by=owner, task=weld, now=now)
    weld.refresh_from_db()
    assert weld.state == words.TaskState.UNDER_WAY
    assert weld.version == 2
    stop = stop_work(by=owner, task=weld, now=now + minutes(40.5))
    assert (stop.minutes, stop.started_by) == (41, start)
    weld.refresh_from_db()
    assert weld.state == words.TaskState.OPEN
    assert not Timer.objects.exists()


def test_the_phones_time_counts_however_late_it_arrives(
    owner: Person, weld: Task, now: datetime
) -> None:
    late = now + timedelta(days=2)
    start_work(by=owner, task=weld, now=late, at=now)
    stop = stop_work(by=owner, now=late, at=now + minutes(20))
    assert stop.minutes == 20
    assert (stop.at, stop.server_at) == (now + minutes(20), late)


def test_row_51_a_stop_before_its_start_is_refused_with_both_times(
    owner: Person, weld: Task, now: datetime
) -> None:
    start_work(by=owner, task=weld, now=now)
    with pytest.raises(BadInput) as refused:
        stop_work(by=owner, now=now, at=now - minutes(5))
    assert str(refused.value) == (
        "It began Fri 3 Sep 06:45 and cannot have stopped before that, "
        "Fri 3 Sep 06:40. Say when it really stopped."
    )
    assert refused.value.field == "at"
    assert Timer.objects.count() == 1


def test_a_stop_that_has_not_come_yet_is_refused(
    owner: Person, weld: Task, now: datetime
) -> None:
    start_work(by=owner, task=weld, now=now)
    with pytest.raises(BadInput, match="Fri 3 Sep 07:45 has not come yet"):
        stop_work(by=owner, now=now + minutes(5), ended_at=now + minutes(60))


def test_minutes_that_are_said_are_booked_instead_of_the_clock(
    owner: Person, weld: Task, now: datetime
) -> None:
    start_work(by=owner, task=weld, now=now)
    with pytest.raises(BadInput, match="Minutes: -5 is less than nothing"):
        stop_work(by=owner, now=now + minutes(300), minutes=-5)
    stop = stop_work(by=owner, now=now + minutes(300), minutes=25)
    assert stop.minutes == 25


def test_a_forgotten_stop_asks_and_books_when_it_really_stopped(
    owner: Person, weld: Task, now: datetime
) -> None:
    start_work(by=owner, task=weld, now=now)
    with pytest.raises(NeedsAnswer) as asked:
        stop_work(by=owner, now=now + minutes(151))
    assert str(asked.value) == (
        "2 h 31 on W33 Weld the loop since 06:45: Still on it, or when did you stop?"
    )
    assert asked.value.code == "still-on-it"
    stop = stop_work(by=owner, now=now + minutes(540), ended_at=now + minutes(70))
    assert stop.minutes == 70
    assert stop.at == now + minutes(70)


def test_up_to_one_and_a_half_guesses_nobody_is_asked(
    owner: Person, weld: Task, now: datetime
) -> None:
    start_work(by=owner, task=weld, now=now)
    assert stop_work(by=owner, now=now + minutes(150)).minutes == 150


def test_a_short_task_is_not_asked_about_before_ninety_minutes(
    owner: Person, sand: Task, now: datetime
) -> None:
    EstimateFactory(task=sand, minutes=10)
    start_work(by=owner, task=sand, now=now)
    assert stop_work(by=owner, now=now + minutes(90)).minutes == 90


def test_row_51_a_fourteen_hour_session_asks_whatever_the_guess_and_takes_a_yes(
    owner: Person, weld: Task, now: datetime
) -> None:
    EstimateFactory(task=weld, minutes=2000, made_at=now)
    start_work(by=owner, task=weld, now=now)
    with pytest.raises(NeedsAnswer, match="14 h 01 on W33"):
        stop_work(by=owner, now=now + minutes(841))
    stop = stop_work(by=owner, now=now + minutes(841), confirm=True)
    assert stop.minutes == 841


def test_row_51_a_second_timer_asks_which_and_switching_stops_the_first(
    owner: Person, weld: Task, sand: Task, now: datetime
) -> None:
    start_work(by=owner, task=weld, now=now)
    with pytest.raises(NeedsAnswer) as asked:
        start_work(by=owner, task=sand, now=now + minutes(30))
    assert str(asked.value) == (
        "You are still on W33 Weld the loop, since 06:45. Stop that and start W03?"
    )
    assert asked.value.field == "switch"
    start_work(by=owner, task=sand, now=now + minutes(30), switch=True)
    assert Timer.objects.get().start.task == sand
    assert LogEntry.objects.get(kind="stop").minutes == 30


def test_starting_what_already_runs_changes_nothing(
    owner: Person, weld: Task, now: datetime
) -> None:
    first = start_work(by=owner, task=weld, now=now)
    assert start_work(by=owner, task=weld, now=now + minutes(3)) == first


def test_two_people_may_join_on_one_task_and_both_sessions_count(
    owner: Person, helper: Person, weld: Task, now: datetime
) -> None:
    start_work(by=owner, task=weld, now=now)
    with pytest.raises(NeedsAnswer) as asked:
        start_work(by=helper, task=weld, now=now + minutes(10))
    assert str(asked.value) == ("Olive began W33 at 06:45. Join, or another task?")
    start_work(by=helper, task=weld, now=now + minutes(10), join=True)
    stop_work(by=owner, now=now + minutes(60))
    weld.refresh_from_db()
    assert weld.state == words.TaskState.UNDER_WAY
    stop_work(by=helper, now=now + minutes(60))
    booked = LogEntry.objects.filter(kind="stop").values_list("minutes", flat=True)
    assert sorted(booked) == [50, 60]


def test_a_finished_task_is_not_started(
    owner: Person, weld: Task, now: datetime
) -> None:
    weld.state = words.TaskState.DONE
    weld.done_at = now
    weld.save()
    with pytest.raises(Clash) as refused:
        start_work(by=owner, task=weld, now=now)
    assert str(refused.value) == (
        "W33 Weld the loop is done already since Fri 3 Sep 06:45."
    )


def test_a_stop_with_nothing_running_or_of_another_task_is_refused(
    owner: Person, weld: Task, sand: Task, now: datetime
) -> None:
    with pytest.raises(Clash, match="Nothing is running"):
        stop_work(by=owner, now=now)
    start_work(by=owner, task=weld, now=now)
    with pytest.raises(Clash, match="You are on W33 Weld the loop, not on W03"):
        stop_work(by=owner, task=sand, now=now)


def test_a_double_tap_on_stop_books_once(
    owner: Person, weld: Task, now: datetime
) -> None:
    start_work(by=owner, task=weld, now=now, client_id="a")
    first = stop_work(by=owner, now=now + minutes(9), client_id="b")
    assert stop_work(by=owner, now=now + minutes(9), client_id="b") == first
    assert LogEntry.objects.count() == 2


def test_a_viewer_starts_nothing(viewer: Person, weld: Task, now: datetime) -> None:
    with pytest.raises(NotAllowed):
        start_work(by=viewer, task=weld, now=now)
