"""Teardown pages: ask, the answer first, accept, add, what changed."""

from __future__ import annotations

from typing import Any

import pytest
from django.test import Client

from fabshop.actions.plan import accept_plan, ask_teardown
from fabshop.records.build import Build, Component
from fabshop.records.plan import Plan
from fabshop.records.shop import Person, Shop, Window
from tests.factories import MOMENT, PersonFactory, PlanFactory

pytestmark = pytest.mark.usefixtures("frozen")
HTMX = {"HX-Request": "true"}


@pytest.fixture
def phone(client: Client, odile: Person) -> Client:
    client.force_login(odile)
    return client


@pytest.fixture
def helpers_phone(teodor: Person) -> Client:
    client = Client()
    client.force_login(teodor)
    return client


@pytest.fixture
def viewers_phone(demo: Shop) -> Client:
    client = Client()
    client.force_login(PersonFactory(name="Vera", role="viewer"))
    return client


def proposed(owner: Person, **asked: Any) -> Plan:
    build = Build.objects.get(slug="tuppence")
    return ask_teardown(by=owner, build=build, now=MOMENT, tasks=["W25"], **asked)


def test_a_stranger_signs_in_first(client: Client, demo_plan: Plan) -> None:
    for path in ("/teardown/", "/builds/tuppence/teardown/", f"/plans/{demo_plan.pk}/"):
        assert client.get(path)["Location"].startswith("/sign-in/")


def test_the_list_says_what_holds_and_what_is_only_asked(
    phone: Client, demo_plan: Plan, odile: Person
) -> None:
    page = phone.get("/teardown/").text
    assert "start by Sun 19 Sep 12:02" in page
    assert "Edition A, accepted Fri 3 Sep" in page
    assert "not accepted" not in page
    asked = proposed(odile)
    assert f'href="/plans/{asked.pk}/"' in phone.get("/teardown/").text


def test_the_tasks_of_the_planned_teardown_are_ticked_and_others_offered(
    phone: Client, demo_plan: Plan
) -> None:
    page = phone.get("/builds/tuppence/teardown/").text
    assert 'name="tasks" value="W24" checked' in page
    assert 'name="tasks" value="W07"' in page
    assert 'name="tasks" value="W07" checked' not in page
    assert "14 tasks are meant for it. It waits for 8 things on the way." in page


def test_asking_reckons_and_keeps_the_answer(phone: Client, demo_plan: Plan) -> None:
    answer = phone.post(
        "/builds/tuppence/teardown/",
        {
            "tasks": ["W25", "W14"],
            "dates": "likely",
            "wait_for": "each",
            "max_sessions": "2",
            "prefer": "early_finish",
        },
    )
    asked = Plan.objects.latest("id")
    assert answer["Location"] == f"/plans/{asked.pk}/"
    assert asked.asked["tasks"] == ["W14", "W25"]
    assert asked.asked["wait_for"] == "each"
    assert asked.asked["prefer"] == "early_finish"
    assert [choice["sessions"] for choice in asked.answer["choices"]] == [1, 2]
    page = phone.get(answer["Location"]).text
    assert "Accept this plan" in page
    assert "Once:" in page
    assert "Twice:" in page


def test_nothing_chosen_is_refused_at_the_form(phone: Client, demo_plan: Plan) -> None:
    answer = phone.post("/builds/tuppence/teardown/", {"max_sessions": "1"})
    assert answer.status_code == 422
    assert "No task is chosen that is still open." in answer.text
    assert Plan.objects.count() == 1


def test_row_14_without_hours_the_answer_leads_to_them(
    phone: Client, demo_plan: Plan
) -> None:
    Window.objects.all().delete()
    answer = phone.post("/builds/tuppence/teardown/", {"tasks": ["W25"]})
    assert answer.status_code == 422
    assert "No bench hours are entered" in answer.text
    assert "Enter them under Hours." in answer.text


def test_the_answer_opens_with_the_one_sentence(phone: Client, demo_plan: Plan) -> None:
    page = phone.get(f"/plans/{demo_plan.pk}/").text
    lead = page.index("Start by Sun 19 Sep 12:02: 2 h 02 in hand.")
    late = page.index("With the parcels late, W21 W22 W23 W27 W29 W30 cannot be done.")
    steps = page.index("<h2>Steps</h2>")
    assert lead < late < steps
    assert "Hold: do not close T02 T10 T11 T14 T20 until W23 is signed." in page
    assert "For good. After this you cannot reach T10, T13." in page
    assert "Not here by Sat 18 Sep 18:00: W21: Spare board SP2" in page
    assert "First: main switch off." in page
    assert "Once: 10 musts, 24 points, 4 others" in page
    assert "4 h 07 handling" in page


def test_steps_stand_with_the_times_of_this_answer(
    phone: Client, demo_plan: Plan
) -> None:
    page = phone.get(f"/plans/{demo_plan.pk}/", headers=HTMX).text
    assert "<html" not in page
    at = 0
    for step in demo_plan.answer["sessions"][0]["steps"]:
        at = page.index(f"{step['start'][-5:]}, ", at)


def test_a_plan_that_can_do_nothing_says_so_and_why(
    phone: Client, odile: Person
) -> None:
    plan = PlanFactory(
        build=Build.objects.get(slug="tuppence"),
        made_by=odile,
        asked={"max_sessions": 1, "tasks": ["W21"], "gates": [], "waits": []},
        answer={
            "sessions": [],
            "status": "optimal",
            "left_out": [{"task": "W21", "why": "nothing it needs comes in time"}],
        },
    )
    page = phone.get(f"/plans/{plan.pk}/").text
    assert "Nothing of this can be done in time." in page
    assert "nothing it needs comes in time" in page
    assert "Accept this plan" not in page


def test_what_is_not_proven_best_says_so(phone: Client, demo_plan: Plan) -> None:
    gap = {"aim": "points", "reached": 20, "bound": 24}
    answer = {**demo_plan.answer, "status": "feasible", "gap": gap}
    Plan.objects.update(answer=answer)
    page = phone.get(f"/plans/{demo_plan.pk}/").text
    assert "Best found, not proven best: points 20, 24 at most." in page


def test_the_owner_accepts_and_the_helper_may_not(
    phone: Client, helpers_phone: Client, odile: Person, demo_plan: Plan
) -> None:
    asked = proposed(odile)
    assert "The owner accepts it" in helpers_phone.get(f"/plans/{asked.pk}/").text
    assert helpers_phone.post(f"/plans/{asked.pk}/accept/").status_code == 403
    answer = phone.post(f"/plans/{asked.pk}/accept/", follow=True)
    assert "Edition B is the plan. Print its sheet." in answer.text
    assert "Begin at step 1" in answer.text
    old = phone.get(f"/plans/{demo_plan.pk}/").text
    assert "Your sheet is edition A, the plan is edition B." in old


def test_a_task_added_is_reckoned_anew(phone: Client, odile: Person) -> None:
    asked = proposed(odile)
    assert 'value="W07"' in phone.get(f"/plans/{asked.pk}/").text
    answer = phone.post(f"/plans/{asked.pk}/add/", {"task": "W14"})
    fresh = Plan.objects.latest("id")
    assert answer["Location"] == f"/plans/{fresh.pk}/"
    assert fresh.asked["tasks"] == ["W14", "W25"]
    assert phone.post(f"/plans/{asked.pk}/add/", {"task": "W99"}).status_code == 404


def test_a_change_in_the_shop_is_said_and_looked_into_on_asking(
    phone: Client, odile: Person
) -> None:
    asked = accept_plan(by=odile, plan=proposed(odile), now=MOMENT)
    path = f"/plans/{asked.pk}/"
    assert "has changed" not in phone.get(path).text
    Component.objects.filter(code="T23").update(off_minutes=90)
    assert "The shop has changed since edition A." in phone.get(path).text
    told = phone.get(f"{path}changed/", headers=HTMX).text
    assert "the steps stay, their times move." in told
    assert "in hand then" in told
    assert "<html" not in told
    assert "<html" in phone.get(f"{path}changed/").text


def test_a_viewer_reads_the_plan_and_asks_for_none(
    viewers_phone: Client, demo_plan: Plan
) -> None:
    page = viewers_phone.get(f"/plans/{demo_plan.pk}/")
    assert page.status_code == 200
    assert "Reckon with up to three" not in page.text
    assert viewers_phone.get("/builds/tuppence/teardown/").status_code == 403


def test_the_page_asks_the_database_as_often_for_many_steps_as_for_few(
    phone: Client, odile: Person, demo_plan: Plan, django_assert_max_num_queries: Any
) -> None:
    few = accept_plan(by=odile, plan=proposed(odile), now=MOMENT)
    phone.get(f"/plans/{few.pk}/")
    with django_assert_max_num_queries(60) as small:
        phone.get(f"/plans/{few.pk}/")
    Plan.objects.filter(pk=few.pk).update(state="superseded")
    Plan.objects.filter(pk=demo_plan.pk).update(state="accepted")
    with django_assert_max_num_queries(60) as large:
        phone.get(f"/plans/{demo_plan.pk}/")
    assert len(large) == len(small)
