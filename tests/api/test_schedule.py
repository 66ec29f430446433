"""The plan of the shop by program, on the demo shop."""

from __future__ import annotations

from rest_framework.test import APIClient

from fabshop.records.schedule import ShopPlan
from fabshop.records.task import Task


def test_before_one_is_asked_for_there_is_none(demo_api: APIClient) -> None:
    for path in ("current", "stand", "needs"):
        answer = demo_api.get(f"/api/shop-plans/{path}/")
        assert answer.status_code == 404
        assert "No plan is made yet" in answer.json()["detail"]


def test_the_plan_its_goals_and_its_needs_are_read(
    demo_api: APIClient, demo_shop_plan: ShopPlan
) -> None:
    plan = demo_api.get("/api/shop-plans/current/").json()
    assert (plan["edition"], plan["is_current"]) == ("A", True)
    assert demo_api.get("/api/shop-plans/").json()["results"][0]["edition"] == "A"
    stand = demo_api.get("/api/shop-plans/stand/").json()
    assert stand["lead"].startswith("Pack-out is made")
    assert stand["points"] == plan["answer"]["points"]
    goals = {goal["task"]: goal for goal in demo_api.get("/api/goals/").json()}
    assert goals["W29"]["plans_b"][0]["title"] == "Block figure, sprayed"
    lines = {need["line"] for need in demo_api.get("/api/shop-plans/needs/").json()}
    assert "P08/1" in lines


def test_a_goal_is_chosen_and_the_plan_follows(
    demo_api: APIClient, demo_shop_plan: ShopPlan
) -> None:
    way = Task.objects.get(code="W14").fallbacks.get()
    answer = demo_api.post(
        "/api/goals/W14/choose/",
        {"choice": "plan-b", "fallback": way.pk},
        format="json",
    )
    assert answer.status_code == 200, answer.content
    assert answer.json()["told"] == "W14 goes by Plan B, Keep printed ducts"
    assert answer.json()["edition"] == "B"


def test_a_plan_b_must_be_named(demo_api: APIClient) -> None:
    answer = demo_api.post(
        "/api/goals/W14/choose/", {"choice": "plan-b"}, format="json"
    )
    assert answer.status_code == 422
    assert answer.json()["errors"][0]["field"] == "fallback"


def test_presence_sending_and_help_are_said(demo_api: APIClient) -> None:
    rows = [{"weekday": 2, "from_minute": 400, "to_minute": 450}]
    assert demo_api.put("/api/presence/", rows, format="json").json() == rows
    assert demo_api.get("/api/presence/").json() == rows
    sent = demo_api.post("/api/orders/P23/sent-with/", {"task": "W41"}, format="json")
    assert sent.json() == {"order": "P23", "task": "W41"}
    helps = demo_api.post("/api/tasks/W41/may-help/", {"may_help": True}, format="json")
    assert helps.json() == {"may_help": True}
    assert Task.objects.get(code="W41").may_help
