"""One shape for every refusal, with an honest status."""

from __future__ import annotations

from typing import Any

import pytest
from rest_framework.test import APIClient

from fabshop.api.problem import CONTENT_TYPE
from tests.factories import TaskFactory


def problem(answer: Any, status: int, code: str) -> dict[str, Any]:
    assert answer.status_code == status, answer.content
    assert answer["Content-Type"] == CONTENT_TYPE
    told = answer.json()
    assert set(told) == {"type", "title", "status", "code", "detail", "errors"}
    assert (told["status"], told["code"]) == (status, code)
    return told


@pytest.mark.django_db
def test_a_stranger_is_asked_for_a_token() -> None:
    answer = APIClient().get("/api/tasks/")
    problem(answer, 401, "not-authenticated")
    assert answer["WWW-Authenticate"] == "Token"


def test_an_unknown_name_is_404(api: APIClient) -> None:
    told = problem(api.get("/api/tasks/W99/"), 404, "not-found")
    assert told["detail"]


def test_a_missing_field_is_named(api: APIClient) -> None:
    told = problem(api.post("/api/log/", {}, format="json"), 400, "invalid")
    assert [error["field"] for error in told["errors"]] == ["text"]


def test_an_unknown_field_is_named(api: APIClient) -> None:
    told = problem(
        api.post("/api/log/", {"text": "x", "colour": "red"}, format="json"),
        400,
        "invalid",
    )
    assert told["errors"] == [
        {"field": "colour", "message": "There is no such field here."}
    ]


def test_what_an_action_refuses_keeps_its_own_words(api: APIClient) -> None:
    TaskFactory(code="W01")
    answer = api.put("/api/tasks/W01/after/", {"after": ["W01"]}, format="json")
    told = problem(answer, answer.status_code, answer.json()["code"])
    assert told["status"] in (409, 422)
    assert "itself" in told["detail"]


def test_broken_json_is_400(api: APIClient) -> None:
    answer = api.post("/api/log/", "{", content_type="application/json")
    problem(answer, 400, "parse-error")


def test_a_verb_that_is_not_there_is_405(api: APIClient) -> None:
    problem(api.delete("/api/tasks/"), 405, "method-not-allowed")


def test_a_helper_reads_why_not(helpers_api: APIClient) -> None:
    answer = helpers_api.post(
        "/api/people/", {"name": "X", "role": "viewer"}, format="json"
    )
    told = problem(answer, 403, "not-allowed")
    assert told["detail"] == "Only the owner does that."
