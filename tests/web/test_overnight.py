"""Overnights: begun in a tap, asked about when due, and what it came to by a tap."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import pytest
from django.test import Client

from fabshop.records.overnight import Run
from fabshop.records.shop import Day, Machine, Person
from fabshop.records.task import Task
from tests.factories import RunFactory, StageFactory, TaskFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def task(owner: Person) -> Task:
    printer = Machine.objects.create(code="print-B", name="Small printer")
    task = TaskFactory(code="W52")
    StageFactory(task=task, number=1, kind="run", minutes=540, machine=printer)
    return task


def test_the_demo_says_which_print_to_begin_and_by_when(
    client: Client, odile: Person, frozen: Any
) -> None:
    client.force_login(odile)
    told = client.get("/overnights/").text
    assert "print" in told.lower()
    assert "begun by" in told
    assert "Nothing may be left running on Sat 11 Sep" in told


def test_started_is_one_tap_and_the_page_asks_when_it_is_due(
    page: Client, task: Task, frozen: Any
) -> None:
    answer = page.post("/tasks/W52/run/", {"client_id": "r1"})
    assert answer.headers["Location"] == "/overnights/"
    run = Run.objects.get()
    frozen.tick(timedelta(hours=10))
    told = page.get("/overnights/").text
    assert "what did it come to?" in told
    assert "due, not confirmed" in told
    page.post(f"/runs/{run.pk}/", {"what": "good"})
    run.refresh_from_db()
    assert run.verdict == "came-out"


def test_a_failure_is_told_by_a_cause_and_the_task_is_open_again(
    page: Client, task: Task
) -> None:
    page.post("/tasks/W52/run/")
    run = Run.objects.get()
    answer = page.post(f"/runs/{run.pk}/", {"what": "failed"})
    assert answer.status_code == 422
    assert "What went wrong" in answer.text
    page.post(f"/runs/{run.pk}/", {"what": "failed", "cause": "ran out"})
    task.refresh_from_db()
    assert task.state == "open"
    assert "ran out" in page.get("/overnights/").text


def test_still_going_wants_minutes_that_are_some(page: Client, task: Task) -> None:
    run = RunFactory(task=task)
    answer = page.post(f"/runs/{run.pk}/", {"what": "going", "minutes": "soon"})
    assert answer.status_code == 422
    page.post(f"/runs/{run.pk}/", {"what": "going", "minutes": "1 h 30"})
    assert Run.objects.get().due_at > run.begun_at


def test_row_68_a_day_marked_so_asks_for_a_reason_on_the_same_form(
    page: Client, task: Task, now: Any
) -> None:
    Day.objects.create(on=now.date(), may_run_machines=False)
    answer = page.post("/tasks/W52/run/")
    assert answer.status_code == 409
    assert "nothing may run" in answer.text
    assert 'name="reason"' in answer.text
    page.post("/tasks/W52/run/", {"reason": "Somebody is in"})
    assert Run.objects.get().reason == "Somebody is in"


def test_a_second_run_on_a_machine_asks_first(page: Client, task: Task) -> None:
    RunFactory(machine=Machine.objects.get())
    answer = page.post("/tasks/W52/run/")
    assert "Start this as well" in answer.text
    page.post("/tasks/W52/run/", {"confirm": "yes"})
    assert Run.objects.count() == 2


def test_a_viewer_starts_nothing(viewers_page: Client, task: Task) -> None:
    assert viewers_page.post("/tasks/W52/run/").status_code == 403
    assert not Run.objects.exists()
