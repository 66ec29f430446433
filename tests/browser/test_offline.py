"""On a secure address the shop opens without network, and the teardown is ticked."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from fabshop.records.plan import Plan, StepTick
from fabshop.web import offline
from tests.browser.conftest import Phone
from tests.browser.test_outbox import kept

pytestmark = pytest.mark.django_db(transaction=True)
TAKEN = """async (path) => {
  const pages = await caches.open("pages");
  return Boolean(await pages.match(path));
}"""


def taken_in(page: Page, path: str) -> None:
    for _ in range(120):
        if page.evaluate(TAKEN, path):
            return
        page.wait_for_timeout(250)
    raise AssertionError(f"{path} was not taken in")


def test_in_aeroplane_mode_the_day_opens_and_a_teardown_is_ticked(
    phone: Phone, demo_plan: Plan
) -> None:
    page = phone()
    last = demo_plan.steps.count()
    taken_in(page, f"/plans/{demo_plan.pk}/steps/{last}/")
    page.context.set_offline(True)
    page.goto("/")
    expect(page.locator(".told").first).to_contain_text(
        "No network: this page is as of"
    )
    page.goto("/log/note/")
    page.get_by_label("What is it?").fill("On the train.")
    page.get_by_role("button", name="Keep it").tap()
    kept(page, 1)
    for number in (1, 2, 3):
        page.goto(f"/plans/{demo_plan.pk}/steps/{number}/")
        page.get_by_role("button", name="Off", exact=True).tap()
        kept(page, 1 + number)
    page.goto("/suppliers/")
    expect(page.locator("h1")).to_have_text("Kept on this phone")
    page.context.set_offline(False)
    page.goto("/")
    kept(page, 0)
    ticked = StepTick.objects.filter(is_done=True).values_list(
        "step__number", flat=True
    )
    assert sorted(ticked) == [1, 2, 3]


def parts(page: Page) -> list[str]:
    names: list[str] = page.evaluate("caches.keys()")
    return [name for name in names if name.startswith("parts ")]


def test_a_new_release_replaces_the_worker_and_leaves_what_is_kept(
    phone: Phone, demo_plan: Plan, monkeypatch: pytest.MonkeyPatch
) -> None:
    page = phone()
    taken_in(page, "/log/note/")
    page.context.set_offline(True)
    page.goto("/log/note/")
    page.get_by_label("What is it?").fill("Before the release.")
    page.get_by_role("button", name="Keep it").tap()
    kept(page, 1)
    [old] = parts(page)
    page.route("**/log/note/", lambda route: route.abort())
    page.context.set_offline(False)
    # The scripts of a new release have other names, so its worker is another.
    monkeypatch.setattr(offline, "SCRIPTS", offline.SCRIPTS[:-1])
    page.evaluate("navigator.serviceWorker.ready.then((there) => there.update())")
    for _ in range(80):
        if old not in parts(page):
            break
        page.wait_for_timeout(250)
    assert len(parts(page)) == 1 and old not in parts(page)
    count = 'import("shop/store").then(({ all }) => all()).then((them) => them.length)'
    assert page.evaluate(count) == 1
