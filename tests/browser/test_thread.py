"""The main job by touch, from the scanned link to the printed sheet."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from fabshop.records.build import Component
from fabshop.records.log import LogEntry
from fabshop.records.plan import Plan
from fabshop.records.shop import SignInLink
from fabshop.records.task import Task
from tests.browser.conftest import Phone, sign_in_path

pytestmark = pytest.mark.django_db(transaction=True)


def test_the_link_is_used_up_by_its_button_and_not_by_being_opened(
    phone: Phone, shop_open: str
) -> None:
    page, path = phone(signed_in=False), sign_in_path()
    page.goto(path)
    page.goto(path)
    assert SignInLink.objects.filter(used_at=None).exists()
    page.get_by_role("button").first.tap()
    page.wait_for_url(f"{shop_open}/")
    expect(page.locator(".lead").first).to_contain_text("P08")
    stranger = phone(signed_in=False)
    stranger.goto(path)
    stranger.get_by_role("button").first.tap()
    assert stranger.url != f"{shop_open}/"


def test_two_taps_start_a_task_and_two_stop_it(phone: Phone) -> None:
    page = phone()
    taps = 0
    first = page.get_by_role("button", name="Start").first
    with page.expect_navigation():
        first.tap()
    taps += 1
    page.locator("details.running > summary, .running summary").first.tap()
    started = LogEntry.objects.get(kind="start")
    stop = page.locator(".running").get_by_role("button", name="Done").first
    assert stop.bounding_box()["height"] >= 64  # type: ignore[index]
    with page.expect_navigation():
        stop.tap()
    taps += 2
    assert taps <= 4
    page.goto("/log/")
    expect(page.locator("main")).to_contain_text(started.task.code)  # type: ignore[union-attr]
    assert LogEntry.objects.filter(kind="done", task=started.task).exists()


def test_a_parcel_received_frees_its_task(phone: Phone) -> None:
    page = phone()
    page.goto("/orders/P16/goods-in/")
    page.get_by_role("button", name="all").first.tap()
    with page.expect_navigation():
        page.get_by_role("button", name="Book in").tap()
    expect(page.locator("main")).to_contain_text("W33")
    page.goto("/builds/tuppence/tasks/")
    expect(page.locator("main")).not_to_contain_text("P16 4130 tube")


def test_a_teardown_is_asked_accepted_and_its_first_step_ticked(
    phone: Phone, shop_open: str
) -> None:
    page = phone()
    page.goto("/builds/tuppence/teardown/")
    page.get_by_role("button", name="Reckon it").first.tap()
    page.wait_for_url("**/plans/*/", timeout=60_000)
    expect(page.locator(".lead").first).to_contain_text("Sun 19 Sep 12:02")
    with page.expect_navigation():
        page.get_by_role("button", name="Accept this plan").tap()
    plan = Plan.objects.accepted().get()
    assert plan.edition == "B"
    step = plan.steps.filter(does="remove").first()
    assert step is not None
    page.goto(f"/plans/{plan.pk}/steps/{step.number}/")
    page.get_by_role("button", name="Off", exact=True).tap()
    page.wait_for_url(f"**/steps/{step.number + 1}/")
    assert Component.objects.get(pk=step.component_id).is_on is False
    answer = page.request.get(f"{shop_open}/paper/teardown/{plan.pk}.pdf")
    assert answer.status == 200
    assert answer.body().startswith(b"%PDF")
    assert "tuppence-teardown" in answer.headers["content-disposition"]


def test_all_of_it_works_without_javascript(phone: Phone) -> None:
    page = phone(java_script_enabled=False)
    with page.expect_navigation():
        page.get_by_role("button", name="Start").first.tap()
    started = Task.objects.get(state="under-way")
    page.goto(f"/tasks/{started.code}/")
    with page.expect_navigation():
        page.locator("main").get_by_role("button", name="Stop").first.tap()
    assert Task.objects.filter(state="under-way").count() == 0
    page.goto("/orders/P16/goods-in/")
    with page.expect_navigation():
        page.get_by_role("button", name="all").first.tap()
    with page.expect_navigation():
        page.get_by_role("button", name="Book in").tap()
    expect(page.locator("main")).to_contain_text("W33")
    plan = Plan.objects.get()
    page.goto(f"/plans/{plan.pk}/steps/1/")
    with page.expect_navigation():
        page.get_by_role("button", name="Off", exact=True).tap()
    assert plan.steps.get(number=1).ticks.count() == 1


def sideways(page: Page) -> int:
    page_is = "document.documentElement"
    return int(page.evaluate(f"{page_is}.scrollWidth - {page_is}.clientWidth"))


@pytest.mark.parametrize("width", [390, 320])
def test_the_main_pages_never_scroll_sideways(phone: Phone, width: int) -> None:
    page = phone(viewport={"width": width, "height": 844})
    plan = Plan.objects.get()
    for path in (
        "/",
        "/log/",
        "/orders/",
        "/builds/tuppence/",
        "/builds/tuppence/tasks/",
        f"/plans/{plan.pk}/",
        "/goods-in/",
    ):
        page.goto(path)
        assert sideways(page) <= 0, path


def test_the_keyboard_alone_reaches_start(phone: Phone) -> None:
    page = phone(has_touch=False, is_mobile=False)
    label = "document.activeElement.innerText"
    for _ in range(60):
        page.keyboard.press("Tab")
        if str(page.evaluate(label)).startswith("Start"):
            break
    with page.expect_navigation():
        page.keyboard.press("Enter")
    assert Task.objects.filter(state="under-way").exists()
