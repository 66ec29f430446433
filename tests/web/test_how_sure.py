"""How sure the plan is, in words and one picture."""

from __future__ import annotations

import pytest

from fabshop.records.schedule import ShopPlan

pytestmark = pytest.mark.django_db


def test_the_chance_is_said_first_and_the_picture_drawn(plan_page):
    told = plan_page.get("/plan/how-sure/").text
    assert "in 100 that everything planned is done by pack-out." in told
    assert "<svg" in told
    assert "Whose doubt costs most" in told
    assert "From 2000 runs of the plan" in told


def test_the_picture_is_told_in_figures_too(plan_page):
    told = plan_page.get("/plan/how-sure/").text
    assert "The picture as figures" in told
    assert "03.09." in told


def test_a_plan_without_chances_says_so(plan_page):
    ShopPlan.objects.update(sure=None)
    assert "were not reckoned" in plan_page.get("/plan/how-sure/").text


def test_before_a_plan_is_made(page):
    assert "No plan is made yet." in page.get("/plan/how-sure/").text
