"""The main job by touch, from the scanned link to the printed sheet."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from fabshop import words
from fabshop.records.build import Component
from fabshop.records.log import LogEntry
from fabshop.records.plan import Plan
from fabshop.records.shop import SignInLink
from fabshop.records.task import Task
from tests.browser.conftest import Phone, Taps, sign_in_path

pytestmark = pytest.mark.django_db(transaction=True)


def test_the_link_is_used_up_by_its_button_and_not_by_being_opened(
    phone: Phone, shop_open: str
) -> None:
    page, path = phone(signed_in=False), sign_in_path()
    page.goto(path)
    page.goto(path)
    assert SignInLink.objects.filter(used_at=None).exists()
    taps = Taps(page)
    taps.through(page.get_by_role("button", name="Sign me in"))
    taps.told("Signing in from the scanned link", 1)
    assert page.url == f"{shop_open}/"
    expect(page.locator(".lead").first).to_contain_text("P08")
    stranger = phone(signed_in=False)
    stranger.goto(path)
    Taps(stranger).through(stranger.get_by_role("button", name="Sign me in"))
    expect(stranger.get_by_role("alert")).to_contain_text("link")
    stranger.goto("/")
    assert "/sign-in/" in stranger.url


def test_a_task_is_started_from_home_and_stopped_within_two_taps_each(
    phone: Phone,
) -> None:
    page = phone()
    start = Taps(page)
    start.through(page.get_by_role("button", name="Start").first)
    start.told("Starting a task from home", 2)
    task = Task.objects.get(state=words.TaskState.UNDER_WAY)
    stop = Taps(page)
    panel = page.locator("details.running")
    bar = panel.locator("summary").bounding_box()
    assert bar is not None
    assert (bar["width"], bar["height"] >= 64) == (390, True)
    stop.on(panel.locator("summary"))
    stop.through(panel.get_by_role("button", name="Only stop"))
    stop.told("Stopping it", 2)
    stop.through(page.get_by_role("link", name="Shop log"))
    line = page.locator(".rows > li").first
    expect(line).to_contain_text("stop")
    expect(line).to_contain_text(f"{task.code} {task.title}")
    assert LogEntry.objects.filter(kind=words.EntryKind.STOP, task=task).count() == 1


def test_a_parcel_received_frees_its_task_and_says_so(phone: Phone) -> None:
    page = phone()
    page.goto("/tasks/W33/")
    expect(page.locator("main")).to_contain_text("wants parts")
    page.goto("/")
    taps = Taps(page)
    taps.through(page.get_by_role("link", name="Goods in", exact=True))
    taps.through(page.get_by_role("link", name=re.compile("^P16 ")))
    taps.on(page.get_by_role("button", name="all good"))
    assert page.get_by_role("textbox", name="Good, 4130").input_value() == "1"
    taps.through(page.get_by_role("button", name="Book in"))
    taps.told("Booking a parcel in from home", 4)
    expect(page.get_by_role("status")).to_contain_text("W33 Recovery loop")
    page.goto("/tasks/W33/")
    expect(page.locator("main")).not_to_contain_text("wants parts")


def test_a_teardown_is_asked_accepted_ticked_and_its_sheet_opened(
    phone: Phone, shop_open: str
) -> None:
    page = phone()
    taps = Taps(page)
    taps.through(page.get_by_role("link", name="Teardown", exact=True))
    taps.through(page.get_by_role("link", name="Plan the teardown of Tuppence"))
    taps.on(page.get_by_role("button", name="Reckon it").first)
    page.wait_for_url("**/plans/*/", timeout=60_000)
    expect(page.locator(".lead").first).to_contain_text(
        "Start by Sun 19 Sep 12:02: 2 h 02 in hand."
    )
    taps.through(page.get_by_role("button", name="Accept this plan"))
    plan = Plan.objects.get()
    assert (plan.state, plan.edition) == (words.PlanState.ACCEPTED, "A")
    taps.through(page.get_by_role("link", name="Begin at step 1"))
    taps.through(page.get_by_role("button", name="Off", exact=True))
    taps.told("Asking a teardown, accepting it and ticking its first step", 6)
    assert page.url.endswith("/steps/2/")
    first = plan.steps.get(number=1)
    assert not Component.objects.get(pk=first.component_id).is_on
    page.goto(f"/plans/{plan.pk}/")
    expect(page.locator("#steps")).to_contain_text("1 of 46 steps ticked.")
    link = page.get_by_role("link", name="Sheet, A4").get_attribute("href")
    answer = page.request.get(f"{shop_open}{link}")
    assert answer.status == 200
    assert answer.body().startswith(b"%PDF")
    assert "tuppence-teardown.pdf" in answer.headers["content-disposition"]
