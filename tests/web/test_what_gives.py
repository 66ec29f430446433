"""What gives: each goal with its ways, and choosing there."""

from __future__ import annotations

import pytest

from fabshop.records.schedule import ShopPlan
from fabshop.records.task import Task

pytestmark = pytest.mark.django_db


def test_goals_are_told_with_what_they_bring_and_until_when(plan_page):
    told = plan_page.get("/plan/what-gives/").text
    assert "of 100 points:" in told
    assert "8 points for 46 min, 10.4 an hour" in told
    assert "SP1 is promised to W20 and W65: there is one piece." in told
    assert "Plan B until" in told


def test_one_goal_says_its_price_and_that_one_plan_b_is_never_worth_it(plan_page):
    cab = plan_page.get("/plan/W57/ways/").text
    assert "Must have it: costs" in cab
    assert "Only for it" in cab
    figure = plan_page.get("/plan/W29/ways/").text
    assert "it takes as long or longer for no more points" in figure


def test_choosing_there_changes_the_plan_at_once_and_back(plan_page):
    task = Task.objects.get(code="W29")
    way = task.fallbacks.get()
    answer = plan_page.post(
        "/plan/W29/choose/", {"choice": f"plan-b:{way.pk}"}, follow=True
    )
    assert "W29 goes by Plan B, Block figure, sprayed." in answer.text
    assert ShopPlan.objects.kept().get().edition == "B"
    plan_page.post("/plan/W29/choose/", {"choice": "free"})
    way.refresh_from_db()
    assert way.chosen_at is None
    assert ShopPlan.objects.kept().get().edition == "C"


def test_an_unknown_choice_is_refused(plan_page):
    answer = plan_page.post("/plan/W29/choose/", {"choice": "burn"})
    assert answer.status_code == 422
    assert "burn: choose one of the keys." in answer.text


def test_only_the_owner_chooses(client, teodor, demo_shop_plan, frozen):
    client.force_login(teodor)
    assert client.get("/plan/W57/ways/").status_code == 200
    answer = client.post("/plan/W57/choose/", {"choice": "must"})
    assert answer.status_code == 403


def test_without_a_plan_the_goals_stand_alone(bare_page):
    told = bare_page.get("/plan/what-gives/").text
    assert "No plan is made yet" in told


def test_a_finished_task_is_no_goal(plan_page):
    Task.objects.filter(code="W29").update(state="given-up")
    assert "Want it again" in plan_page.get("/plan/W29/ways/").text
