"""A phone without JavaScript does the whole main job by plain forms."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from fabshop import words
from fabshop.records.plan import Plan
from fabshop.records.task import Task
from tests.browser.conftest import Phone, Taps

pytestmark = pytest.mark.django_db(transaction=True)


def test_all_of_the_main_job_works_without_javascript(phone: Phone) -> None:
    page = phone(java_script_enabled=False)
    taps = Taps(page)
    taps.through(page.get_by_role("link", name="20 min", exact=True))
    taps.through(page.get_by_role("button", name="Start").first)
    task = Task.objects.get(state=words.TaskState.UNDER_WAY)
    taps.on(page.locator(".running summary"))
    taps.through(page.locator(".running").get_by_role("button", name="Only stop"))
    task.refresh_from_db()
    assert task.state == words.TaskState.OPEN
    page.goto("/orders/P16/goods-in/")
    taps.through(page.get_by_role("button", name="all good"))
    taps.through(page.get_by_role("button", name="Book in"))
    expect(page.get_by_role("status")).to_contain_text("W33")
    page.goto("/builds/tuppence/teardown/")
    taps.on(page.get_by_role("button", name="Reckon it").first)
    page.wait_for_url("**/plans/*/", timeout=60_000)
    taps.through(page.get_by_role("button", name="Accept this plan"))
    taps.through(page.get_by_role("link", name="Begin at step 1"))
    taps.through(page.get_by_role("button", name="Off", exact=True))
    step = Plan.objects.get().steps.get(number=1)
    assert step.ticks.get().is_done
