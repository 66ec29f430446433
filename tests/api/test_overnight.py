"""Runs of machines by program."""

from __future__ import annotations

from rest_framework.test import APIClient

from tests.factories import MachineFactory, StageFactory, TaskFactory


def begun(api: APIClient) -> int:
    task = TaskFactory(code="W52")
    machine = MachineFactory(code="print-B")
    StageFactory(task=task, number=1, kind="run", minutes=540, machine=machine)
    keys = {"headers": {"Idempotency-Key": "k1"}, "format": "json"}
    answers = [api.post("/api/tasks/W52/run/", {}, **keys) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [201, 201], answers[0].content
    assert answers[0].json() == answers[1].json()
    return int(answers[0].json()["id"])


def test_a_run_is_begun_once_and_came_out(api: APIClient) -> None:
    pk = begun(api)
    assert api.get("/api/runs/?verdict=").json()["count"] == 1
    answer = api.post(f"/api/runs/{pk}/came-out/", {}, format="json")
    assert answer.json()["verdict"] == "came-out"
    again = api.post(f"/api/runs/{pk}/came-out/", {}, format="json")
    assert (again.status_code, again.json()["code"]) == (409, "run-is-said")


def test_a_failure_wants_a_cause(api: APIClient) -> None:
    pk = begun(api)
    answer = api.post(f"/api/runs/{pk}/failed/", {}, format="json")
    assert (answer.status_code, answer.json()["errors"][0]["field"]) == (400, "cause")
    answer = api.post(f"/api/runs/{pk}/failed/", {"cause": "Jam"}, format="json")
    assert answer.json()["cause"] == "Jam"


def test_still_going_moves_the_time(api: APIClient) -> None:
    pk = begun(api)
    told = api.get(f"/api/runs/{pk}/").json()
    answer = api.post(f"/api/runs/{pk}/still-going/", {"minutes": 700}, format="json")
    assert answer.json()["due_at"] > told["due_at"]
