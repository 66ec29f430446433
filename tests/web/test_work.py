"""The taps of the bench: two to start, two to stop, and what a stop may ask."""

from datetime import timedelta

import pytest

from fabshop.records.log import LogEntry, Timer
from fabshop.records.task import Task
from tests.factories import (
    MOMENT,
    AfterFactory,
    EstimateFactory,
    TaskFactory,
    WindowFactory,
)

pytestmark = pytest.mark.django_db


@pytest.fixture
def task(shop):
    task = TaskFactory(code="W34", title="Rework joint J07")
    EstimateFactory(task=task, minutes=60)
    return task


def test_a_start_runs_and_the_stop_is_on_every_page(page, task):
    assert page.post("/tasks/W34/start/").url == "/"
    assert Timer.objects.get().start.task == task
    for path in ("/", "/log/", "/hours/"):
        text = page.get(path).text
        assert "Stop W34, since 06:45" in text
        assert 'action="/tasks/W34/done/"' in text


def test_done_books_the_minutes_and_says_what_is_free_now(page, task, frozen, owner):
    WindowFactory(person=owner, on=MOMENT.date(), from_minute=360, to_minute=1320)
    after = TaskFactory(code="W35", build=task.build)
    EstimateFactory(task=after, minutes=20)
    AfterFactory(task=after, before=task)
    page.post("/tasks/W34/start/")
    frozen.tick(timedelta(minutes=41))
    answer = page.post("/tasks/W34/done/", follow=True)
    assert "W34 is done. Free now: W35. 41 min booked." in answer.text
    assert "Look, or undo it" in answer.text
    assert Task.objects.get(code="W34").state == "done"
    assert not Timer.objects.exists()


@pytest.mark.parametrize(
    ("share", "left"), [("1/4", "15 min"), ("1/2", "30 min"), ("3/4", "45 min")]
)
def test_part_done_takes_a_share_of_the_guess(page, task, share, left):
    page.post("/tasks/W34/start/")
    answer = page.post("/tasks/W34/part-done/", {"left_share": share}, follow=True)
    assert f"W34 is part-done, {left} left." in answer.text


def test_part_done_without_a_word_on_what_is_left_asks_for_it(page, task):
    answer = page.post("/tasks/W34/part-done/", {})
    assert answer.status_code == 422
    assert "How much is left: ¼, ½, ¾ or minutes?" in answer.text


def test_stuck_says_on_what(page, task):
    page.post("/tasks/W34/start/")
    answer = page.post("/tasks/W34/stuck/", {"on": "thinking"}, follow=True)
    assert "W34 is stuck on thinking." in answer.text
    assert LogEntry.objects.filter(kind="stuck", stuck_on="thinking").exists()


def test_a_second_tap_with_the_same_id_writes_nothing(page, task):
    for _ in range(2):
        page.post("/tasks/W34/start/", {"client_id": "tap-1"})
    assert LogEntry.objects.filter(kind="start").count() == 1


def test_a_second_task_asks_and_yes_stops_the_first(page, task):
    TaskFactory(code="W12", build=task.build)
    page.post("/tasks/W34/start/")
    answer = page.post("/tasks/W12/start/")
    assert answer.status_code == 409
    assert "You are still on W34 Rework joint J07" in answer.text
    assert 'name="switch" value="yes"' in answer.text
    page.post("/tasks/W12/start/", {"switch": "yes"})
    assert Timer.objects.get().start.task.code == "W12"


def test_a_task_somebody_is_on_is_joined_only_when_said(page, helpers_page, task):
    page.post("/tasks/W34/start/")
    answer = helpers_page.post("/tasks/W34/start/")
    assert answer.status_code == 409
    assert "began W34 at 06:45. Join, or another task?" in answer.text
    assert 'name="join" value="yes"' in answer.text
    helpers_page.post("/tasks/W34/start/", {"join": "yes"})
    assert Timer.objects.count() == 2


def test_a_forgotten_stop_asks_when_it_really_was(page, task, frozen):
    page.post("/tasks/W34/start/")
    frozen.tick(timedelta(hours=9))
    answer = page.post("/tasks/W34/stop/")
    assert answer.status_code == 409
    assert "Still on it, or when did you stop?" in answer.text
    assert 'name="ended_at"' in answer.text
    page.post("/tasks/W34/stop/", {"ended_at": "2027-09-03T08:00"})
    assert LogEntry.objects.get(kind="stop").minutes == 75


def test_an_end_that_is_no_moment_is_named(page, task):
    page.post("/tasks/W34/start/")
    answer = page.post("/tasks/W34/stop/", {"ended_at": "soon"})
    assert answer.status_code == 422
    assert "Stopped at: “soon” is not a moment." in answer.text


def test_nothing_running_is_a_clash_in_words(page, task):
    answer = page.post("/tasks/W34/stop/")
    assert answer.status_code == 409
    assert "Nothing is running, so there is nothing to stop." in answer.text


def test_a_viewer_and_a_stranger_start_nothing(viewers_page, client, task):
    answer = viewers_page.post("/tasks/W34/start/")
    assert answer.status_code == 403
    assert "You may look at everything here, but not write." in answer.text
    assert client.post("/tasks/W34/start/").status_code == 403
    assert not Timer.objects.exists()


def test_a_task_that_is_not_here_is_a_page_that_says_so(page):
    assert page.post("/tasks/W99/start/").status_code == 404


def test_one_is_sent_back_to_where_one_was_but_never_elsewhere(page, task):
    there = page.post("/tasks/W34/start/", {"then": "/log/"})
    assert there.url == "/log/"
    page.post("/tasks/W34/stop/")
    away = page.post("/tasks/W34/start/", {"then": "https://elsewhere.example/"})
    assert away.url == "/"


def test_a_stop_says_what_it_did_to_the_time_in_hand(client, odile, demo, frozen):
    client.force_login(odile)
    client.post("/tasks/W34/start/")
    frozen.tick(timedelta(minutes=20))
    half = client.post("/tasks/W34/part-done/", {"left_share": "3/4"}, follow=True)
    assert "W34 is part-done" in half.text
    assert "in hand before it must go on." in half.text
    assert " → " in half.text


def test_a_stop_of_planned_work_says_what_the_teardown_has_in_hand(
    client, odile, demo_plan, frozen
):
    client.force_login(odile)
    client.post("/tasks/W25/part-done/", {"left_minutes": "2 h"})
    text = client.get("/").text
    assert "in hand for the teardown of Tuppence." in text


def test_done_on_a_hold_leads_to_its_readings(page, task):
    hold = TaskFactory(code="W23", build=task.build, is_hold=True)
    answer = page.post("/tasks/W23/done/")
    assert answer.status_code == 409
    assert "W23 is a hold: sign it or waive it with a reason." in answer.text
    assert 'href="/tasks/W23/hold/"' in answer.text
    assert hold.state == "open"


def test_done_on_what_would_close_a_hold_leads_to_that_hold(client, odile, demo):
    client.force_login(odile)
    answer = client.post("/tasks/W27/done/")
    assert answer.status_code == 409
    assert 'href="/tasks/W23/hold/"' in answer.text
