"""At the bench: the printed sheet, the hold and the weld, tap by tap."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from playwright.sync_api import Page, expect

from fabshop import words
from fabshop.records.joint import Joint, PrepTick
from fabshop.records.plan import Plan, StepTick
from fabshop.records.task import Task
from tests.browser.conftest import Phone, Taps
from tests.browser.tap_table import counted
from tests.factories import MOMENT

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def page(phone: Phone) -> Page:
    return phone()


def test_s6_each_step_is_one_tap_after_the_sheet_is_scanned(
    page: Page, demo_plan: Plan
) -> None:
    taps = Taps(page)
    taps.scan(f"/plans/{demo_plan.pk}/steps/1/")
    scanned = taps.count
    for number in (1, 2, 3):
        expect(page.locator("h1")).to_contain_text(f"Step {number} of")
        taps.through(page.get_by_role("button", name="Off", exact=True))
    assert StepTick.objects.filter(is_done=True).count() == 3
    taps.count = (taps.count - scanned) // 3
    counted(taps, "S6 A step of the teardown", 1)


def test_s6_paper_and_phone_catch_each_other_up(page: Page, demo_plan: Plan) -> None:
    taps = Taps(page)
    number = demo_plan.steps.filter(does=words.StepDo.REMOVE).count()
    number = min(number, 14)
    taps.scan(f"/plans/{demo_plan.pk}/steps/{number}/")
    taps.through(page.get_by_role("button", name=f"All to step {number}"))
    assert StepTick.objects.filter(is_done=True).count() == number
    counted(taps, f"S6 All off to step {number}", 2)


def test_s7_a_hold_is_read_and_signed(page: Page) -> None:
    taps = Taps(page)
    taps.through(page.get_by_role("link", name=re.compile("^W23 ")).last)
    for reading in ("Motor turns", "Servo", "Lamps"):
        taps.on(page.get_by_label(re.compile(reading)))
    taps.keys(page.get_by_label(re.compile("Voltage")), "12")
    taps.through(page.get_by_role("button", name="Sign", exact=True))
    assert Task.objects.get(code="W23").state == words.TaskState.DONE
    counted(taps, "S7 Hold W23: four readings and Sign", 8)


def test_s8_a_joint_from_the_traveler_to_its_colour(
    page: Page, settings: object
) -> None:
    taps = Taps(page)
    taps.scan("/tasks/W43/joints/")
    taps.through(page.get_by_role("link", name=re.compile("^J17 ")))
    counted(taps, "S8 The traveler scanned, and a joint of its set", 2)
    steps = Taps(page)
    for number in (1, 4, 5, 6):
        steps.through(of_step(page, number))
    page.locator("summary", has_text="Another state").tap()
    Taps(page).through(page.get_by_role("button", name="Tacked", exact=True))
    steps.through(of_step(page, 8))
    assert PrepTick.objects.filter(is_done=True).count() == 5
    counted(steps, "S8 Its five stop steps", 5)
    page.get_by_label("Minutes").fill("4")
    Taps(page).through(of_step(page, 9))
    expect(page.locator("[data-until]")).to_be_visible()
    settings.NOW = MOMENT + timedelta(minutes=5)  # type: ignore[attr-defined]
    done = Taps(page)
    done.through(page.get_by_role("button", name="Welded", exact=True))
    assert Joint.objects.get(code="J17").state == words.JointState.WELDED
    expect(page.get_by_role("status")).to_contain_text("J18")
    counted(done, "S8 Welded", 1)
    call = Taps(page)
    call.on(page.get_by_role("button", name=re.compile("^gold")))
    call.through(page.get_by_role("button", name="Accept", exact=True))
    assert Joint.objects.get(code="J17").calls.count() == 1
    counted(call, "S8 Its colour, where no table judges it", 2)


def of_step(page: Page, number: int) -> object:
    step = page.locator(f'form.step:has(input[name="number"][value="{number}"])')
    return step.get_by_role("button").first
