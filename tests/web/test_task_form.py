"""Getting a task in: its guess, its points, and what it comes after."""

import pytest

from fabshop.records.task import Task
from tests.factories import AfterFactory, BuildFactory, EstimateFactory, TaskFactory

pytestmark = pytest.mark.django_db


@pytest.fixture
def tuppence(shop):
    return BuildFactory(slug="tuppence", letter="T")


NEW = "/builds/tuppence/tasks/new/"


def test_a_task_leads_on_to_what_it_waits_for(client, owner, tuppence):
    TaskFactory(code="W03", build=tuppence)
    client.force_login(owner)
    answer = client.post(
        NEW, {"code": "W04", "title": "Lay up nose", "minutes": "2,2 h", "points": "-3"}
    )
    assert answer.url == "/tasks/W04/after/?new=1"
    answer = client.post(answer.url, {"after": "W03"})
    assert answer.url == "/tasks/W04/needs/?new=1"
    task = Task.objects.get(code="W04")
    assert task.estimates.get().minutes == 132
    assert task.points == -3
    assert task.afters.get().before.code == "W03"


def test_row_4_the_shortest_loop_is_shown(client, owner, tuppence):
    """Row 4: prerequisite loop through 5 tasks."""
    tasks = [TaskFactory(code=f"W{n}", build=tuppence) for n in range(1, 6)]
    for task, before in zip(tasks[1:], tasks, strict=False):
        AfterFactory(task=task, before=before)
    client.force_login(owner)
    answer = client.post("/tasks/W1/after/", {"after": "W5"})
    assert answer.status_code == 409
    for code in ("W1", "W2", "W3", "W4", "W5"):
        assert code in answer.text
    assert "loop" in answer.text
    assert 'value="W5" checked' in answer.text


def test_row_52_a_blank_guess_is_the_familys_and_marked(client, owner, tuppence):
    """Row 52: estimate blank."""
    for minutes in (30, 60, 90):
        EstimateFactory(task__family="wiring", minutes=minutes)
    client.force_login(owner)
    client.post(NEW, {"code": "W70", "title": "Loom", "family": "wiring"})
    assert "Guess of the family" in client.get("/tasks/W70/").text
    assert Task.objects.get(code="W70").estimates.get().minutes == 60


def test_row_52_a_guess_of_nothing_asks(client, owner, tuppence):
    """Row 52: estimate 0."""
    client.force_login(owner)
    answer = client.post(NEW, {"code": "W70", "title": "Loom", "minutes": "0"})
    assert answer.status_code == 409
    fields = {"code": "W70", "title": "Loom", "minutes": "0", "confirm": "yes"}
    assert client.post(NEW, fields).status_code == 302


def test_what_is_wrong_is_named_and_kept(client, owner, tuppence):
    client.force_login(owner)
    answer = client.post(
        NEW, {"code": "W70", "title": "", "minutes": "ages", "points": "many"}
    )
    assert answer.status_code == 422
    assert "“ages” is not a time" in answer.text
    assert "“many” is not a whole number" in answer.text
    assert 'value="ages"' in answer.text


def test_a_change_keeps_the_guesses_before_it(client, owner, tuppence):
    task = TaskFactory(code="W04", build=tuppence)
    EstimateFactory(task=task, minutes=60)
    client.force_login(owner)
    client.post(
        "/tasks/W04/change/",
        {"title": "Lay up", "minutes": "90", "version": task.version},
    )
    assert [e.minutes for e in task.estimates.order_by("id")] == [60, 90]


def test_a_task_shared_by_all_builds_has_none(client, owner, tuppence):
    client.force_login(owner)
    client.post(
        NEW, {"code": "W69", "title": "Spares", "minutes": "90", "is_shared": "yes"}
    )
    assert Task.objects.get().build is None


def test_a_task_after_nothing_known_is_refused(client, owner, tuppence):
    TaskFactory(code="W04", build=tuppence)
    client.force_login(owner)
    answer = client.post("/tasks/W04/after/", {"after-codes": "W99"})
    assert answer.status_code == 422
    assert "There is no task W99." in answer.text
    assert 'value="W99"' in answer.text


def test_a_helper_defines_no_tasks(client, helper, tuppence):
    client.force_login(helper)
    assert client.get(NEW).status_code == 403


def test_that_a_helper_may_do_it_is_a_tick_of_the_form(page):
    task = TaskFactory(code="W80")
    form = {"title": task.title, "minutes": "30", "family": "other", "points": "0"}
    version = {"version": str(task.version)}
    page.post(f"/tasks/{task.code}/change/", form | version | {"may_help": "on"})
    task.refresh_from_db()
    assert task.may_help
    version = {"version": str(task.version)}
    page.post(f"/tasks/{task.code}/change/", form | version)
    task.refresh_from_db()
    assert not task.may_help
