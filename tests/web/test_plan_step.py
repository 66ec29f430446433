"""A step on the phone: what to do, the tick, and two phones at one machine."""

from __future__ import annotations

from io import BytesIO
from typing import Any
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from PIL import Image

from fabshop.actions.plan import accept_plan, ask_teardown
from fabshop.records.build import Component
from fabshop.records.log import PhotoUse
from fabshop.records.plan import Plan, StepTick
from fabshop.records.shop import Person, Shop
from tests.factories import MOMENT, PersonFactory

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


def tick(client: Client, plan: Plan, number: int, **more: Any) -> Any:
    sent = {"number": number, "client_id": str(uuid4()), **more}
    return client.post(f"/plans/{plan.pk}/tick/", sent)


def number_of(plan: Plan, code: str, does: str) -> int:
    field = "task__code" if does == "task" else "component__code"
    return plan.steps.get(**{field: code}, does=does).number


def test_a_removal_shows_what_holds_it_and_one_big_key(
    phone: Client, demo_plan: Plan
) -> None:
    number = number_of(demo_plan, "T14", "remove")
    page = phone.get(f"/plans/{demo_plan.pk}/steps/{number}/").text
    assert "Off: T14 Centre cover" in page
    assert "4×M3×8 BH, dry" in page
    assert "Its plug is bare then: unplug the battery." in page
    assert '<button class="big">Off</button>' in page
    assert f"All to step {number}" in page


def test_a_hold_shows_its_bar_and_leads_to_the_readings(
    phone: Client, demo_plan: Plan
) -> None:
    number = number_of(demo_plan, "W23", "task")
    page = phone.get(f"/plans/{demo_plan.pk}/steps/{number}/").text
    assert "Hold: do not close T02 T10 T11 T14 T20 until W23 is signed." in page
    assert 'href="/tasks/W23/hold/"' in page
    assert "T13 T17 T18" in page


def test_what_is_bonded_says_what_is_never_reached_again(
    phone: Client, demo_plan: Plan
) -> None:
    number = number_of(demo_plan, "W30", "task")
    page = phone.get(f"/plans/{demo_plan.pk}/steps/{number}/").text
    assert "For good. After this you cannot reach T10, T13." in page
    assert "Do not close T08 before" in page
    assert "<b>not here</b>" in page


def test_a_tick_takes_the_part_off_and_goes_on_to_the_next_step(
    phone: Client, demo_plan: Plan
) -> None:
    first = demo_plan.steps.get(number=1)
    answer = tick(phone, demo_plan, 1)
    assert answer["Location"] == f"/plans/{demo_plan.pk}/steps/2/"
    assert not Component.objects.get(pk=first.component_id).is_on
    page = phone.get(f"/plans/{demo_plan.pk}/").text
    assert "1 of 46 steps ticked." in page
    assert "Go on at step 2" in page


def test_two_phones_see_each_others_ticks(
    phone: Client, helpers_phone: Client, demo_plan: Plan
) -> None:
    path = f"/plans/{demo_plan.pk}/steps/1/"
    page = phone.get(path).text
    assert f'hx-get="{path}" hx-trigger="every 8s"' in page
    tick(helpers_phone, demo_plan, 1)
    part = phone.get(path, headers=HTMX).text
    assert "<html" not in part
    assert "Ticked by Teodor" in part
    assert tick(phone, demo_plan, 1).status_code == 302
    assert StepTick.objects.count() == 1


def test_the_same_tap_twice_is_one_tick(phone: Client, demo_plan: Plan) -> None:
    for _ in range(2):
        assert tick(phone, demo_plan, 1, client_id="tap-1").status_code == 302
    assert StepTick.objects.count() == 1


def test_a_tick_is_taken_back(phone: Client, demo_plan: Plan) -> None:
    tick(phone, demo_plan, 1)
    assert "Take the tick back" in phone.get(f"/plans/{demo_plan.pk}/steps/1/").text
    tick(phone, demo_plan, 1, not_done="1")
    page = phone.get(f"/plans/{demo_plan.pk}/steps/1/").text
    assert '<button class="big">Off</button>' in page


def test_the_paper_is_caught_up_with_in_one_tap(phone: Client, demo_plan: Plan) -> None:
    first_task = demo_plan.steps.filter(does="task").first()
    assert first_task is not None
    tick(phone, demo_plan, first_task.number - 1, all_to="1")
    page = phone.get(f"/plans/{demo_plan.pk}/").text
    assert f"{first_task.number - 1} of 46 steps ticked." in page
    assert f"Go on at step {first_task.number}" in page


def test_row_8_a_refusal_names_the_step_and_ticks_nothing(
    phone: Client, demo_plan: Plan
) -> None:
    answer = tick(phone, demo_plan, 46, all_to="1")
    assert answer.status_code == 409
    assert "Step " in answer.text
    assert StepTick.objects.count() == 0


def test_a_cure_asks_and_the_yes_key_answers(phone: Client, demo_plan: Plan) -> None:
    cured = demo_plan.steps.filter(cured_at__isnull=False, task__code="W24").get()
    tick(phone, demo_plan, cured.number, all_to="1")
    on = number_of(demo_plan, "T14", "refit")
    Component.objects.filter(code="T11").update(is_on=False)
    # The hold would refuse it before the cure is looked at.
    demo_plan.build.tasks.filter(code="W23").update(state="done", is_hold=False)
    asked = tick(phone, demo_plan, on)
    assert asked.status_code == 409
    assert "W24 Bond bulkhead heat shield cures until" in asked.text
    assert 'name="confirm"' in asked.text
    assert f'name="number" value="{on}"' in asked.text
    assert tick(phone, demo_plan, on, confirm="yes").status_code == 302
    assert Component.objects.get(code="T14").is_on


def test_row_59_an_old_sheet_leads_to_the_same_step_of_the_new_edition(
    phone: Client, demo_plan: Plan, odile: Person
) -> None:
    asked = ask_teardown(by=odile, build=demo_plan.build, now=MOMENT, tasks=["W25"])
    fresh = accept_plan(by=odile, plan=asked, now=MOMENT)
    number = number_of(demo_plan, "T23", "remove")
    now = number_of(fresh, "T23", "remove")
    page = phone.get(f"/plans/{demo_plan.pk}/steps/{number}/").text
    assert "Your sheet is edition A, the plan is edition B." in page
    assert f"This is step {now} now." in page
    assert f'href="/plans/{fresh.pk}/steps/{now}/"' in page
    gone = phone.get(
        f"/plans/{demo_plan.pk}/steps/{number_of(demo_plan, 'W24', 'task')}/"
    )
    assert "This step is not in it any more." in gone.text


def test_a_photo_stays_with_its_step(
    phone: Client, demo_plan: Plan, settings: Any, tmp_path: Any
) -> None:
    settings.MEDIA_ROOT = tmp_path
    picture = BytesIO()
    Image.new("RGB", (40, 30), "white").save(picture, "JPEG")
    file = SimpleUploadedFile("p.jpg", picture.getvalue(), "image/jpeg")
    path = f"/plans/{demo_plan.pk}/steps/1/"
    answer = phone.post(f"{path}photo/", {"photo": file}, follow=True)
    assert answer.status_code == 200
    assert PhotoUse.objects.get().step.number == 1
    assert "Photo of step 1" in phone.get(path).text
    none = phone.post(f"{path}photo/", {})
    assert none.status_code == 422
    assert "Choose a photo first." in none.text


def test_a_viewer_has_no_keys(viewers_phone: Client, demo_plan: Plan) -> None:
    page = viewers_phone.get(f"/plans/{demo_plan.pk}/steps/1/").text
    assert "Off: " in page
    assert ">Off</button>" not in page
    assert tick(viewers_phone, demo_plan, 1).status_code == 403


def test_there_is_no_step_99(phone: Client, demo_plan: Plan) -> None:
    assert phone.get(f"/plans/{demo_plan.pk}/steps/99/").status_code == 404
