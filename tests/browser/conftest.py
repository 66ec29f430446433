"""A real Chromium as a phone of 390 x 844, touched, on the demo shop."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, sync_playwright

from fabshop import prepare
from fabshop.actions.shop import make_sign_in_link
from fabshop.records.plan import Plan
from fabshop.records.shop import Person
from tests.factories import MOMENT

# Playwright runs a loop of its own in this thread; the tests read records meanwhile.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"

FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
Phone = Callable[..., Page]


@pytest.fixture(scope="session")
def chromium() -> Iterator[Browser]:
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=prepare.chromium(), args=FLAGS
        )
        yield browser
        browser.close()


@pytest.fixture
def shop_open(live_server: Any, demo_plan: Plan, settings: Any) -> str:
    """The address of the demo shop, open for business on Friday at 06:45."""
    settings.NOW = MOMENT
    return str(live_server.url)


@pytest.fixture
def phone(chromium: Browser, shop_open: str) -> Iterator[Phone]:
    """Opens a phone; `phone(signed_in=False)` is a stranger's."""
    contexts = []

    def opened(*, signed_in: bool = True, **more: Any) -> Page:
        context = chromium.new_context(
            **{
                "viewport": {"width": 390, "height": 844},
                "has_touch": True,
                "is_mobile": True,
                "device_scale_factor": 2,
                "base_url": shop_open,
                **more,
            }
        )
        contexts.append(context)
        context.set_default_timeout(15_000)
        page = context.new_page()
        if signed_in:
            page.goto(sign_in_path())
            page.get_by_role("button").first.click()
            page.wait_for_url(f"{shop_open}/")
        return page

    yield opened
    for context in contexts:
        context.close()


def sign_in_path(name: str = "Odile Marchbanks") -> str:
    token = make_sign_in_link(person=Person.objects.get(name=name), now=MOMENT)
    return f"/sign-in/{token}/"
