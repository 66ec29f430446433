"""A run is begun in a tap, and is over only when somebody says what it came to."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from fabshop import words
from fabshop.actions.log import finish_work, start_work, undo_entry
from fabshop.actions.overnight import came_out, run_failed, start_run, still_going
from fabshop.errors import BadInput, Clash, NeedsAnswer, NotAllowed
from fabshop.reckoning.readiness import readiness
from fabshop.records.log import LogEntry
from fabshop.records.overnight import Run
from fabshop.records.shop import Day, Machine, Person
from fabshop.records.task import Task
from fabshop.snapshot import take
from tests.factories import AfterFactory, StageFactory, TaskFactory

pytestmark = pytest.mark.django_db
NINE_HOURS = timedelta(hours=9)


@pytest.fixture
def printer(owner: Person) -> Machine:
    return Machine.objects.create(code="print-B", name="Small printer")


@pytest.fixture
def task(printer: Machine) -> Task:
    task = TaskFactory(code="W52")
    StageFactory(task=task, number=1, kind="hands-on", minutes=18)
    StageFactory(task=task, number=2, kind="run", minutes=540, machine=printer)
    return task


@pytest.fixture
def follower(task: Task) -> Task:
    follower = TaskFactory(code="W53")
    AfterFactory(task=follower, before=task)
    return follower


def why(code: str, now: datetime) -> list[str]:
    ready = readiness(take(now))
    return [reason.sentence for reason in ready[code].reasons]


def test_it_runs_until_it_is_due_and_stops_ones_own_timer(
    owner: Person, task: Task, follower: Task, now: datetime
) -> None:
    start_work(by=owner, task=task, now=now - timedelta(minutes=20))
    run = start_run(by=owner, task=task, now=now)
    assert (run.begun_at, run.due_at) == (now, now + NINE_HOURS)
    assert LogEntry.objects.get(kind="stop").minutes == 20
    told = why("W53", now)
    assert any("W52 runs on Small printer until" in sentence for sentence in told)


def test_after_its_time_it_is_not_over_by_itself(
    owner: Person, task: Task, follower: Task, now: datetime
) -> None:
    start_run(by=owner, task=task, now=now)
    morning = now + timedelta(hours=30)
    assert any("not confirmed" in sentence for sentence in why("W53", morning))
    assert readiness(take(morning))["W53"].free_at is None


def test_came_out_frees_what_waits_and_ends_when_it_was_due(
    owner: Person, helper: Person, task: Task, follower: Task, now: datetime
) -> None:
    run = start_run(by=owner, task=task, now=now)
    morning = now + timedelta(hours=12)
    run = came_out(by=helper, run=run, now=morning)
    assert (run.verdict, run.ended_at) == ("came-out", now + NINE_HOURS)
    assert not any("W52" in sentence for sentence in why("W53", morning))


def test_a_cure_behind_the_run_begins_when_the_run_really_ended(
    owner: Person, task: Task, now: datetime
) -> None:
    StageFactory(task=task, number=3, kind="cure", minutes=240)
    run = start_run(by=owner, task=task, now=now)
    came_out(by=owner, run=run, now=now + timedelta(hours=8))
    task.refresh_from_db()
    assert task.cured_at == now + timedelta(hours=12)


def test_row_69_a_failure_told_two_days_late_is_booked_at_its_true_time(
    owner: Person, task: Task, now: datetime
) -> None:
    run = start_run(by=owner, task=task, now=now)
    failed_at, told = now + timedelta(hours=2), now + timedelta(days=2)
    run = run_failed(
        by=owner, run=run, cause="Nozzle blocked", now=told, failed_at=failed_at
    )
    assert (run.verdict, run.ended_at) == ("failed", failed_at)
    task.refresh_from_db()
    assert (task.state, task.cured_at) == (words.TaskState.OPEN, None)
    entry = LogEntry.objects.get(kind="run-ended")
    assert entry.text == "Small printer: failed after 2 h. Nozzle blocked"
    assert start_run(by=owner, task=task, now=told).begun_at == told


def test_a_failure_has_a_cause_and_lies_within_its_run(
    owner: Person, task: Task, now: datetime
) -> None:
    run = start_run(by=owner, task=task, now=now)
    with pytest.raises(BadInput, match="What went wrong"):
        run_failed(by=owner, run=run, cause=" ", now=now)
    with pytest.raises(BadInput, match="cannot have failed"):
        early = now - timedelta(hours=1)
        run_failed(by=owner, run=run, cause="Jam", now=now, failed_at=early)


def test_still_going_moves_the_time_and_what_waits_for_it(
    owner: Person, task: Task, now: datetime
) -> None:
    run = start_run(by=owner, task=task, now=now)
    later = now + timedelta(hours=9)
    run = still_going(by=owner, run=run, minutes=60, now=later)
    task.refresh_from_db()
    assert run.due_at == task.cured_at == now + timedelta(hours=10)


def test_row_68_a_day_on_which_nothing_may_run_wants_the_owners_reason(
    owner: Person, helper: Person, task: Task, now: datetime
) -> None:
    Day.objects.create(on=now.date(), may_run_machines=False)
    with pytest.raises(NeedsAnswer, match="nothing may run"):
        start_run(by=owner, task=task, now=now)
    with pytest.raises(NotAllowed):
        start_run(by=helper, task=task, now=now, reason="I watch it")
    run = start_run(by=owner, task=task, now=now, reason="Mother is in")
    assert run.reason == "Mother is in"


def test_a_machine_that_nobody_has_spoken_of_is_asked_about(
    owner: Person, task: Task, printer: Machine, now: datetime
) -> None:
    start_run(by=owner, task=task, now=now)
    other = TaskFactory(code="W51")
    StageFactory(task=other, number=1, kind="run", minutes=60, machine=printer)
    with pytest.raises(NeedsAnswer, match="Small printer is still on W52"):
        start_run(by=owner, task=other, now=now)
    assert start_run(by=owner, task=other, now=now, confirm=True).task == other


def test_a_late_start_is_asked_nothing_and_the_same_tap_is_one_run(
    owner: Person, task: Task, now: datetime
) -> None:
    Day.objects.create(on=now.date(), may_run_machines=False)
    told = {"at": now - timedelta(hours=3), "client_id": "r1", "now": now}
    first = start_run(by=owner, task=task, **told)  # type: ignore[arg-type]
    assert start_run(by=owner, task=task, **told) == first  # type: ignore[arg-type]
    assert first.due_at == now + timedelta(hours=6)
    assert Run.objects.count() == 1


def test_done_begins_the_run_that_the_work_ends_with(
    owner: Person, task: Task, now: datetime
) -> None:
    finish_work(by=owner, task=task, now=now)
    run = Run.objects.get()
    assert (run.task, run.verdict, run.due_at) == (task, "", now + NINE_HOURS)


def test_hands_on_work_behind_a_run_is_what_is_left(
    owner: Person, task: Task, now: datetime
) -> None:
    StageFactory(task=task, number=3, kind="hands-on", minutes=30)
    run = start_run(by=owner, task=task, now=now)
    task.refresh_from_db()
    assert (task.state, task.left_minutes) == (words.TaskState.OPEN, 30)
    assert any("W52 runs on" in sentence for sentence in why("W52", now))
    came_out(by=owner, run=run, now=now + NINE_HOURS)
    with pytest.raises(Clash, match="no run on a machine left"):
        start_run(by=owner, task=task, now=now + NINE_HOURS)


def test_a_start_is_undone_within_its_ten_minutes(
    owner: Person, task: Task, now: datetime
) -> None:
    start_run(by=owner, task=task, now=now)
    undo_entry(by=owner, entry=LogEntry.objects.get(kind="run-started"), now=now)
    assert not Run.objects.unsaid().exists()
    task.refresh_from_db()
    assert (task.state, task.cured_at) == (words.TaskState.OPEN, None)


def test_what_it_came_to_is_undone_and_it_is_unsaid_again(
    owner: Person, task: Task, now: datetime
) -> None:
    run = start_run(by=owner, task=task, now=now)
    run_failed(by=owner, run=run, cause="Jam", now=now)
    started = LogEntry.objects.get(kind="run-started")
    with pytest.raises(Clash, match="since"):
        undo_entry(by=owner, entry=started, now=now)
    undo_entry(by=owner, entry=LogEntry.objects.get(kind="run-ended"), now=now)
    assert Run.objects.unsaid().get() == run
    task.refresh_from_db()
    assert task.cured_at == now + NINE_HOURS


def test_what_was_said_of_a_run_is_not_said_twice(
    owner: Person, viewer: Person, task: Task, now: datetime
) -> None:
    run = start_run(by=owner, task=task, now=now)
    with pytest.raises(NotAllowed):
        came_out(by=viewer, run=run, now=now)
    came_out(by=owner, run=run, now=now)
    with pytest.raises(Clash, match="said already: came out"):
        run_failed(by=owner, run=run, cause="Jam", now=now)
