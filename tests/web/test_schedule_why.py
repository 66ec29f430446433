"""Why a task stands where it does in the plan."""

from __future__ import annotations

import pytest

pytestmark = pytest.mark.django_db


def test_a_task_says_when_and_what_it_comes_after(plan_page):
    told = plan_page.get("/plan/W29/").text
    assert "It comes after" in told
    assert "P08 Driver figure" in told
    assert "It may begin as late as" in told


def test_what_the_plan_does_without_is_told_with_the_reason(plan_page):
    assert "The plan does without it" in plan_page.get("/plan/W54/").text


def test_a_task_that_is_not_there_is_not_found(plan_page):
    assert plan_page.get("/plan/W999/").status_code == 404


def test_before_a_plan_is_made(bare_page):
    assert "No plan is made yet." in bare_page.get("/plan/W29/").text
