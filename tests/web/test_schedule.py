"""The page of the plan: its sentence, its days, and asking again."""

from __future__ import annotations

import pytest

from fabshop.records.schedule import ShopPlan

pytestmark = pytest.mark.django_db


def test_without_a_plan_the_page_offers_one(page):
    told = page.get("/plan/").text
    assert "Make the plan" in told
    assert "Nothing is entered yet." in told


def test_without_work_asking_is_refused_in_words(page):
    answer = page.post("/plan/ask/")
    assert answer.status_code == 422
    assert "No task is open: there is nothing to plan." in answer.text


def test_the_plan_opens_with_its_sentence_and_tells_each_day(plan_page):
    told = plan_page.get("/plan/").text
    assert "Pack-out is made" in told
    assert "of 100 points." in told
    assert "Tuppence comes apart" in told
    assert "Fri 3 Sep" in told
    assert "from 5 finished tasks" in told


def test_home_and_plan_tell_one_story(plan_page):
    lead = plan_page.get("/plan/").text.split('class="lead">')[1].split("</p>")[0]
    assert lead in plan_page.get("/").text
    assert lead in plan_page.get("/paper/wall/").text


def test_every_plan_is_listed_with_what_it_changed(plan_page):
    told = plan_page.get("/plan/all/").text
    assert "Edition A" in told
    assert "1 plan made." in told


def test_a_viewer_looks_but_does_not_ask(viewers_page):
    assert "Make the plan" not in viewers_page.get("/plan/").text
    assert viewers_page.post("/plan/ask/").status_code == 403


def test_a_stranger_signs_in_first(client, shop):
    assert client.get("/plan/").status_code == 302


def test_the_page_asks_the_database_the_same_with_and_without_a_plan(
    plan_page, django_assert_max_num_queries
):
    with django_assert_max_num_queries(45):
        plan_page.get("/plan/")
    assert ShopPlan.objects.count() == 1
