"""Holds by program: who may sign, what is needed first."""

from __future__ import annotations

import pytest
from rest_framework.test import APIClient

from fabshop.records.task import ReadingTaken, Task
from tests.factories import ReadingFactory, TaskFactory


@pytest.fixture
def hold(db: None) -> Task:
    task: Task = TaskFactory(code="W23", is_hold=True)
    ReadingFactory(task=task, number=1, label="motor forward", kind="tick")
    ReadingFactory(task=task, number=2, label="voltage", kind="number", low=11, high=13)
    return task


def read(api: APIClient, number: int, value: str) -> None:
    answer = api.post(
        "/api/tasks/W23/hold/readings/",
        {"number": number, "value": value},
        format="json",
    )
    assert answer.status_code == 200, answer.content


def test_a_hold_is_signed_once_every_reading_is_there(
    api: APIClient, hold: Task
) -> None:
    read(api, 1, "1")
    early = api.post("/api/tasks/W23/hold/sign/", {}, format="json")
    assert early.status_code in (409, 422)
    assert "voltage" in early.json()["detail"]
    read(api, 2, "12.1")
    signed = api.post("/api/tasks/W23/hold/sign/", {}, format="json")
    assert signed.json()["signings"][0]["verdict"] == "signed"


def test_a_reading_out_of_bounds_is_kept_and_not_signed(
    api: APIClient, hold: Task
) -> None:
    read(api, 1, "1")
    read(api, 2, "9.5")
    refused = api.post("/api/tasks/W23/hold/sign/", {}, format="json")
    assert refused.status_code in (409, 422)
    assert "9.5" in refused.json()["detail"]
    assert ReadingTaken.objects.count() == 2


def test_a_helper_cannot_sign_and_the_reading_stays(
    helpers_api: APIClient, hold: Task
) -> None:
    read(helpers_api, 1, "1")
    refused = helpers_api.post("/api/tasks/W23/hold/sign/", {}, format="json")
    assert refused.status_code == 403
    assert "unsigned" in refused.json()["detail"]
    assert ReadingTaken.objects.count() == 1


def test_a_waiver_wants_its_reason(api: APIClient, hold: Task) -> None:
    assert api.post("/api/tasks/W23/hold/waive/", {}, format="json").status_code == 400
    waived = api.post(
        "/api/tasks/W23/hold/waive/", {"reason": "tested on the bench"}, format="json"
    )
    assert waived.json()["signings"][0]["verdict"] == "waived"


def test_a_fail_is_said_by_a_helper_too(helpers_api: APIClient, hold: Task) -> None:
    failed = helpers_api.post(
        "/api/tasks/W23/hold/fail/", {"reason": "servo dead"}, format="json"
    )
    assert failed.json()["signings"][0]["verdict"] == "failed"
