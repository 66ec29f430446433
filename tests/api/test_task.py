"""Tasks by program: read, defined, started, stopped, finished."""

from __future__ import annotations

from rest_framework.test import APIClient

from fabshop.records.log import LogEntry
from fabshop.records.task import Task
from tests.factories import TaskFactory


def test_a_task_is_started_stopped_and_finished(api: APIClient) -> None:
    TaskFactory(code="W34")
    assert api.post("/api/tasks/W34/start/", {}, format="json").status_code == 201
    assert Task.objects.get(code="W34").state == "under-way"
    stopped = api.post("/api/tasks/W34/part-done/", {"left_minutes": 20}, format="json")
    assert stopped.status_code == 201
    assert stopped.json()["left_minutes"] == 20
    assert api.post("/api/tasks/W34/done/", {}, format="json").status_code == 201
    assert Task.objects.get(code="W34").state == "done"
    kinds = set(LogEntry.objects.values_list("kind", flat=True))
    assert {"start", "part-done", "done"} <= kinds


def test_stuck_says_on_what(api: APIClient) -> None:
    TaskFactory(code="W34")
    answer = api.post("/api/tasks/W34/stuck/", {"on": "tool"}, format="json")
    assert answer.json()["stuck_on"] == "tool"


def test_a_second_timer_asks_which(api: APIClient) -> None:
    TaskFactory(code="W01")
    TaskFactory(code="W02")
    api.post("/api/tasks/W01/start/", {}, format="json")
    asked = api.post("/api/tasks/W02/start/", {}, format="json")
    assert asked.status_code == 409
    assert asked.json()["code"] == "two-timers"
    switched = api.post("/api/tasks/W02/start/", {"switch": True}, format="json")
    assert switched.status_code == 201


def test_a_task_is_added_and_changed(api: APIClient) -> None:
    added = api.post(
        "/api/tasks/",
        {"code": "W80", "title": "Straighten bracket", "minutes": 25},
        format="json",
    )
    assert added.status_code == 201, added.content
    version = added.json()["version"]
    changed = api.patch(
        "/api/tasks/W80/", {"version": version, "points": 3}, format="json"
    )
    assert changed.json()["points"] == 3
    stale = api.patch(
        "/api/tasks/W80/", {"version": version, "points": 4}, format="json"
    )
    assert stale.status_code == 409


def test_the_list_is_filtered_and_paged(api: APIClient) -> None:
    for number in range(60):
        TaskFactory(code=f"X{number:02}", family="wiring")
    TaskFactory(code="Y01", family="welding")
    page = api.get("/api/tasks/", {"family": "wiring"}).json()
    assert page["count"] == 60
    assert len(page["results"]) == 50
    assert page["next"]


def test_the_list_takes_as_many_queries_for_ten_as_for_two(
    api: APIClient, django_assert_num_queries: object
) -> None:
    for number in range(2):
        TaskFactory(code=f"X{number:02}")
    with django_assert_num_queries(9):  # type: ignore[operator]
        api.get("/api/tasks/")
    for number in range(2, 12):
        TaskFactory(code=f"X{number:02}")
    with django_assert_num_queries(9):  # type: ignore[operator]
        api.get("/api/tasks/")
