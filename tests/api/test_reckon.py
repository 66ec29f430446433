"""The calculations over HTTP."""

from __future__ import annotations

from rest_framework.test import APIClient

LID = {
    "windows": [["2031-05-05T18:00", "2031-05-05T21:00"]],
    "deadline": "2031-05-05T21:00",
    "components": [{"id": "lid", "off": 4, "on": 6}],
    "tasks": [{"id": "loom", "minutes": 90, "remove": ["lid"]}],
}


def test_a_teardown_is_answered(api: APIClient) -> None:
    answer = api.post("/api/reckon/teardown/", LID, format="json")
    assert answer.status_code == 200, answer.content
    assert answer.json()["sessions"][0]["finish"] == "2031-05-05T19:40"


def test_a_cope_is_answered(api: APIClient) -> None:
    cope = {"branch": {"od": 6, "wall": 0.9}, "main": {"od": 8}, "angle": 60}
    assert api.post("/api/reckon/cope/", cope, format="json").json()["dial"] == 30.0


def test_a_bad_question_is_400_with_the_same_line(api: APIClient) -> None:
    tasks = [{"id": "loom", "minutes": 90, "after": ["weld-9"]}]
    answer = api.post("/api/reckon/teardown/", {**LID, "tasks": tasks}, format="json")
    assert answer.status_code == 400
    assert answer.json()["detail"] == "tasks[0].after[0]: no task 'weld-9'"
    assert answer.json()["errors"][0]["field"] == "tasks[0].after[0]"


def test_an_unknown_kind_is_400(api: APIClient) -> None:
    answer = api.post("/api/reckon/magic/", {}, format="json")
    assert answer.status_code == 400
    assert "teardown" in answer.json()["detail"]
