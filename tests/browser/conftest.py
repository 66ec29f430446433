"""A real Chromium as a phone of 390 x 844, touched, on the demo shop."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Any

import pytest
from playwright.sync_api import Browser, Locator, Page, sync_playwright

from fabshop import prepare
from fabshop.actions.shop import make_sign_in_link
from fabshop.records.shop import Person, Shop
from tests.factories import MOMENT

# Playwright runs a loop of its own in this thread; the tests read records meanwhile.
os.environ["DJANGO_ALLOW_ASYNC_UNSAFE"] = "true"

# A name of the house network: what a browser holds back from plain http is missing.
LAN = "shop.lan"
FLAGS = [
    f"--host-resolver-rules=MAP {LAN} 127.0.0.1",
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


@dataclass
class Taps:
    """Taps on one page, counted: what a person with gloves on has to hit."""

    page: Page
    count: int = 0

    def on(self, what: Locator) -> None:
        what.tap()
        self.count += 1

    def through(self, what: Locator) -> None:
        """A tap that leads to the next page."""
        with self.page.expect_navigation():
            self.on(what)

    def keys(self, field: Locator, typed: str) -> None:
        """A figure by the phone's own keypad: the field, then key by key."""
        self.on(field)
        field.press_sequentially(typed)
        self.count += len(typed)

    def scan(self, path: str) -> None:
        """A printed square code, opened by the phone's own camera."""
        self.page.goto(path)
        self.count += 1

    def told(self, scenario: str, most: int) -> None:
        print(f"\n{scenario}: {self.count} taps", end="")
        assert self.count <= most, f"{scenario}: {self.count} taps, {most} at most"


@pytest.fixture
def shop_open(live_server: Any, demo: Shop, settings: Any) -> str:
    """The address of the demo shop, open for business on Friday at 06:45."""
    settings.NOW = MOMENT
    return str(live_server.url)


@pytest.fixture
def phone(chromium: Browser, shop_open: str) -> Iterator[Phone]:
    """Opens a phone; `phone(signed_in=False)` is a stranger's."""
    contexts = []

    def opened(
        *, signed_in: bool = True, name: str = "Odile Marchbanks", **more: Any
    ) -> Page:
        page = a_phone(chromium, **{"base_url": shop_open, **more})
        contexts.append(page.context)
        if signed_in:
            page.goto(sign_in_path(name))
            page.get_by_role("button").first.click()
            page.wait_for_url(f"{more.get('base_url', shop_open)}/")
        return page

    yield opened
    for context in contexts:
        context.close()


def a_phone(chromium: Browser, **more: Any) -> Page:
    """A phone that nobody is signed in on."""
    context = chromium.new_context(
        **{
            "viewport": {"width": 390, "height": 844},
            "has_touch": True,
            "is_mobile": True,
            "device_scale_factor": 2,
            **more,
        }
    )
    context.set_default_timeout(15_000)
    return context.new_page()


def sign_in_path(name: str = "Odile Marchbanks") -> str:
    token = make_sign_in_link(person=Person.objects.get(name=name), now=MOMENT)
    return f"/sign-in/{token}/"
