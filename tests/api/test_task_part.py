"""The lists a task is made of, each set whole."""

from __future__ import annotations

from rest_framework.test import APIClient

from tests.factories import (
    ComponentFactory,
    FallbackFactory,
    OrderLineFactory,
    TaskFactory,
)


def test_stages_needs_sites_after_and_readings(api: APIClient) -> None:
    part = ComponentFactory(code="T13")
    TaskFactory(code="W16", build=part.build)
    task = TaskFactory(code="W22", build=part.build)
    line = OrderLineFactory(number=1, quantity_milli=2000)
    name = f"{line.order.code}/1"
    for path, body in (
        ("after", {"after": ["W16"]}),
        ("stages", {"stages": [{"kind": "hands-on", "minutes": 144}]}),
        ("needs", {"needs": [{"kind": "order", "line": name, "quantity": "1"}]}),
        ("sites", {"sites": [{"kind": "fits", "component": "T13"}]}),
        ("readings", {"readings": [{"label": "motor turns", "kind": "tick"}]}),
        ("fallbacks", {"fallbacks": [{"title": "old loom", "minutes": 90}]}),
    ):
        answer = api.put(f"/api/tasks/W22/{path}/", body, format="json")
        assert answer.status_code == 200, (path, answer.content)
    told = api.get(f"/api/tasks/{task.code}/").json()
    assert told["after"] == ["W16"]
    assert told["stages"][0]["minutes"] == 144
    assert told["needs"] == [
        {"kind": "order", "line": name, "rack_code": "", "quantity": 1.0, "note": ""}
    ]
    assert told["sites"] == [{"component": "T13", "kind": "fits"}]
    assert told["readings"][0]["label"] == "motor turns"
    assert told["fallbacks"][0]["title"] == "old loom"


def test_a_loop_is_named(api: APIClient) -> None:
    TaskFactory(code="W01")
    TaskFactory(code="W02")
    api.put("/api/tasks/W02/after/", {"after": ["W01"]}, format="json")
    answer = api.put("/api/tasks/W01/after/", {"after": ["W02"]}, format="json")
    assert answer.status_code == 409
    assert "W01" in answer.json()["detail"]
    assert "W02" in answer.json()["detail"]


def test_a_plan_b_is_chosen_and_left_again(api: APIClient) -> None:
    way = FallbackFactory(task__code="W07")
    there = f"/api/tasks/W07/fallbacks/{way.pk}/choose/"
    chosen = api.post(there, {}, format="json").json()
    assert chosen["fallbacks"][0]["chosen_at"]
    left = api.post(there, {"chosen": False}, format="json").json()
    assert left["fallbacks"][0]["chosen_at"] is None
