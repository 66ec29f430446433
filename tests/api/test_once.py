"""A write sent twice under one key happens once and is answered alike."""

from __future__ import annotations

from typing import Any

from rest_framework.test import APIClient

from fabshop.records.log import LogEntry
from tests.factories import TaskFactory

KEY = {"HTTP_IDEMPOTENCY_KEY": "phone-1"}


def note(api: APIClient, text: str = "hub seized", **headers: Any) -> Any:
    return api.post("/api/log/", {"text": text}, format="json", **headers)


def test_the_same_key_gets_the_first_answer(api: APIClient) -> None:
    first, second = note(api, **KEY), note(api, **KEY)
    assert first.status_code == second.status_code == 201
    assert first.json() == second.json()
    assert LogEntry.objects.filter(kind="note").count() == 1


def test_without_a_key_two_are_two(api: APIClient) -> None:
    note(api)
    note(api)
    assert LogEntry.objects.filter(kind="note").count() == 2


def test_a_refusal_is_kept_too(api: APIClient) -> None:
    TaskFactory(code="W01")
    first = api.post("/api/tasks/W01/stop/", {}, format="json", **KEY)
    assert first.status_code in (409, 422)
    second = api.post("/api/tasks/W01/stop/", {}, format="json", **KEY)
    assert second.status_code == first.status_code
    assert second.json() == first.json()
    assert second["Content-Type"] == first["Content-Type"]


def test_the_key_with_another_body_is_refused(api: APIClient) -> None:
    note(api, **KEY)
    answer = note(api, "something else", **KEY)
    assert answer.status_code == 409
    assert answer.json()["code"] == "key-used-before"
    assert LogEntry.objects.filter(kind="note").count() == 1


def test_a_key_of_no_letters_is_refused(api: APIClient) -> None:
    answer = note(api, HTTP_IDEMPOTENCY_KEY="")
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["field"] == "Idempotency-Key"


def test_two_people_may_use_the_same_key(
    api: APIClient, helpers_api: APIClient
) -> None:
    note(api, **KEY)
    note(helpers_api, **KEY)
    assert LogEntry.objects.filter(kind="note").count() == 2
