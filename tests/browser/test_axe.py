"""No page breaks WCAG 2.2 AA as axe sees it, scrolls sideways or has small keys."""

from __future__ import annotations

from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from playwright.sync_api import Browser, Locator, Page, Response

from fabshop import words
from fabshop.actions.shop import add_person, make_owner, set_password
from fabshop.errors import ShopError
from fabshop.paper.sheet import Sheet
from fabshop.records.plan import Plan
from fabshop.records.shop import Person
from tests.browser.conftest import Phone, a_phone, sign_in_path
from tests.factories import MOMENT
from tests.web.addresses import addresses

pytestmark = pytest.mark.django_db(transaction=True)

RULES = {
    "type": "tag",
    "values": ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"],
}
COLOUR = {"type": "rule", "values": ["color-contrast"]}
STALE = """() => {
  const form = document.querySelector("main form");
  form.dataset.straight = "";
  form.elements.csrfmiddlewaretoken.value = "x".repeat(64);
}"""
SCHEMES = pytest.mark.parametrize("scheme", ["light", "dark"])
SIDEWAYS = "document.documentElement.scrollWidth - document.documentElement.clientWidth"
# What a thumb in a glove has to hit; links within a sentence are read first.
SMALL = """() => [...document.querySelectorAll(
    ".big, .key, .places a, summary, .row-tap, .rows > li > a:only-child, " +
    "main input:not([type=hidden], [type=checkbox], [type=radio]), main select"
  )]
  .filter((one) => one.checkVisibility() && !one.closest(".key input, [hidden]"))
  .filter((one) => Math.round(one.getBoundingClientRect().height) < 64)
  .map((one) => one.outerHTML.slice(0, 100))"""


def faults(
    page: Page, *, is_paper: bool = False, is_colour_alone: bool = False
) -> list[Any]:
    told = Axe().run(page, options={"runOnly": COLOUR if is_colour_alone else RULES})
    found: list[Any] = [
        (rule["id"], [node["target"] for node in rule["nodes"]][:3])
        for rule in told.response["violations"]
    ]
    if is_colour_alone:
        return found
    if page.evaluate(SIDEWAYS) > 0:
        found.append("scrolls sideways")
    return found if is_paper else found + page.evaluate(SMALL)


@SCHEMES
def test_every_page_and_sheet_keeps_the_rules(
    phone: Phone, demo_plan: Plan, scheme: str
) -> None:
    page = phone(color_scheme=scheme)
    found = {}
    for path in addresses():
        answer = page.goto(path)
        assert answer is not None
        assert answer.status == 200, path
        # The same pages in the dark: only their colours are others.
        is_paper, is_dark = path.startswith("/paper/"), scheme == "dark"
        if those := faults(page, is_paper=is_paper, is_colour_alone=is_dark):
            found[path] = those
    assert found == {}


def through(page: Page, key: Locator) -> Response:
    """Tap what is sent, and have the shop's answer once the page shows it."""
    page.evaluate("document.body.dataset.before = 'yes'")
    with page.expect_response(lambda one: one.request.method == "POST") as led:
        key.tap()
    page.wait_for_function("document.body && !document.body.dataset.before")
    page.wait_for_load_state()
    return led.value


def onto(page: Page, key: Locator) -> Response:
    """Tap what leads to a page by itself, and have that page's answer."""
    with page.expect_navigation() as led:
        key.tap()
    assert led.value is not None
    return led.value


@SCHEMES
def test_every_refusal_keeps_them_too(
    phone: Phone, demo_plan: Plan, scheme: str
) -> None:
    """What could not be taken, asks back, is not here or not allowed."""
    page = phone(color_scheme=scheme)
    found = {}

    def look(what: str, answer: Response | None, status: int) -> None:
        assert answer is not None
        assert answer.status == status, what
        if those := faults(page):
            found[what] = those

    look("not here", page.goto("/tasks/no-such-task/"), 404)
    page.goto("/orders/P05/goods-in/")
    book = page.get_by_role("button", name="Book in")
    look("nothing counted", through(page, book), 422)
    page.goto("/tasks/W23/hold/")
    sign = page.get_by_role("button", name="Sign", exact=True)
    look("nothing read", through(page, sign), 422)
    look("drafts", page.goto("/drafts/"), 200)
    page.goto("/orders/new/")
    look("an empty order", through(page, page.locator("main .big").last), 422)
    page.goto("/")
    start = page.get_by_role("button", name="Start").first
    look("a task begun", through(page, start), 200)
    page.locator(".running summary").tap()
    if those := faults(page):
        found["how to stop"] = those
    page.locator(".running summary").tap()
    look("two timers", through(page, start), 409)
    page.goto("/people/")
    link = page.get_by_role("button", name="Sign-in link").first
    look("a link to scan", through(page, link), 200)
    page.goto("/log/note/")
    keep = page.get_by_role("button", name="Keep it")
    # The outbox would have it signed anew by itself; without it the page asks.
    page.evaluate(STALE)
    look("a form gone stale", through(page, keep), 403)
    assert found == {}


def test_who_may_only_look_and_who_is_not_in_yet_find_no_broken_rule(
    phone: Phone, odile: Person
) -> None:
    vera = add_person(by=odile, name="Vera", role=words.Role.VIEWER, now=MOMENT)
    set_password(by=odile, person=vera, password="quarry-lamp-7", now=MOMENT)
    page = phone(signed_in=False)
    found = {"sign in by link": (page.goto(sign_in_path()), faults(page))[1]}
    page.goto("/sign-in/no-such-link/")
    page.get_by_role("button").first.tap()
    page.get_by_role("alert").wait_for()
    found["a link that is none"] = faults(page)
    page.goto("/hours/add/")
    assert "/sign-in/" in page.url
    found["sign in"] = faults(page)
    for password in ("wrong", "quarry-lamp-7"):
        page.get_by_label("Your name").fill("Vera")
        page.get_by_label("Password").fill(password)
        answer = onto(page, page.get_by_role("button", name="Sign in"))
        found[f"after {password}"] = faults(page)
    assert answer.status == 403, "hours are the owner's"
    assert {what: those for what, those in found.items() if those} == {}


def test_a_new_shops_first_pages_keep_the_rules(
    chromium: Browser, live_server: Any, settings: Any
) -> None:
    """Zone, hours and first build, then the pages that have nothing to show yet."""
    settings.NOW = MOMENT
    make_owner(name="Odile", now=MOMENT)
    page = a_phone(chromium, base_url=live_server.url)
    page.goto(sign_in_path("Odile"))
    onto(page, page.get_by_role("button", name="Sign me in"))
    found = {"zone": faults(page)}
    page.get_by_label("What it is called").fill("Half a garage")
    onto(page, page.get_by_role("button", name="Next: hours"))
    found["hours"] = faults(page)
    onto(page, page.get_by_role("link", name="Leave it for later"))
    found["build"] = faults(page)
    page.get_by_label("Its name").fill("Tuppence")
    page.get_by_label("A letter for its parts").fill("T")
    onto(page, page.locator("main .big").last)
    for path in (
        "/",
        "/log/",
        "/orders/",
        "/builds/tuppence/",
        "/teardown/",
        "/hours/",
    ):
        answer = page.goto(path)
        assert answer is not None
        assert answer.status == 200, path
        found[path] = faults(page)
    page.context.close()
    assert {what: those for what, those in found.items() if those} == {}


def test_a_sheet_without_pdf_says_so_within_the_rules(
    phone: Phone, monkeypatch: pytest.MonkeyPatch
) -> None:
    class Off(ShopError):
        status = 503

    def refuse(*_: object, **__: object) -> bytes:
        raise Off("PDF is off on this machine: the library Pango is missing.")

    monkeypatch.setattr(Sheet, "pdf", refuse)
    page = phone()
    for path, status in (("/paper/wall.pdf", 503), ("/paper/receiving/none/", 404)):
        answer = page.goto(path)
        assert answer is not None
        assert answer.status == status
        assert faults(page, is_paper=True) == []
