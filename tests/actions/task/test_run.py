"""The run that comes next, and what is left behind it."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop.actions.task.run import begin_last_run, begin_run, next_run
from fabshop.records.overnight import Run
from fabshop.records.shop import Machine, Person
from fabshop.records.task import Task
from tests.factories import (
    MOMENT,
    MachineFactory,
    RunFactory,
    StageFactory,
    TaskFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def machine() -> Machine:
    return MachineFactory(code="mill")


def staged(machine: Machine, *stages: tuple[str, int]) -> Task:
    task = TaskFactory(code="W9")
    for number, (kind, minutes) in enumerate(stages, start=1):
        on = machine if kind == "run" else None
        StageFactory(task=task, number=number, kind=kind, minutes=minutes, machine=on)
    return task


def test_the_runs_of_a_task_come_one_after_another(machine: Machine) -> None:
    task = staged(machine, ("run", 60), ("hands-on", 20), ("run", 30), ("cure", 90))
    stage, left = next_run(task)
    assert stage is not None and (stage.minutes, left) == (60, 20)
    RunFactory(task=task, machine=machine, verdict="came-out", ended_at=MOMENT)
    stage, left = next_run(task)
    assert stage is not None and (stage.minutes, left) == (30, None)


def test_a_task_without_a_machine_has_no_run(machine: Machine) -> None:
    assert next_run(staged(machine, ("hands-on", 20))) == (None, None)


def test_done_begins_only_a_run_that_nothing_follows(
    machine: Machine, owner: Person, now: datetime
) -> None:
    task = staged(machine, ("run", 60), ("hands-on", 20))
    begin_last_run(task, by=owner, at=now, before={})
    assert not Run.objects.exists()
    stage, _ = next_run(task)
    assert stage is not None
    before: dict[str, object] = {}
    run = begin_run(task, stage, by=owner, at=now, before=before)
    assert before == {"run": run.pk}
