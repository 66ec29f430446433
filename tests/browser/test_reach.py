"""Every page by keyboard alone, by ear, and by a thumb in a glove."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import Page, expect

from fabshop.records.plan import Plan
from tests.browser.conftest import Phone
from tests.web.addresses import addresses

pytestmark = pytest.mark.django_db(transaction=True)

# What a screen reader walks by: one first heading, none skipped, places with names.
OUTLINE = """() => {
  const seen = (one) => one.checkVisibility();
  const said = [];
  const heads = [...document.querySelectorAll("h1, h2, h3, h4, h5, h6")].filter(seen);
  const firsts = heads.filter((one) => one.tagName === "H1");
  if (firsts.length !== 1) said.push(`${firsts.length} h1`);
  let last = 0;
  for (const one of heads) {
    const level = Number(one.tagName[1]);
    if (level > last + 1) said.push(`h${last}, h${level}: ${one.textContent.trim()}`);
    if (!one.textContent.trim()) said.push("an empty heading");
    last = level;
  }
  for (const place of ["main", "nav", "header", "footer"])
    if (!document.querySelector(place)) said.push(`no ${place}`);
  for (const nav of document.querySelectorAll("nav"))
    if (!nav.ariaLabel) said.push("a nav without a name");
  if (document.documentElement.lang !== "en") said.push("no language");
  if (!document.title.trim()) said.push("no title");
  if (!document.querySelector("[aria-live] #kept")) said.push("kept is not told");
  return said;
}"""
# Everything that can be tapped takes the focus, and shows that it has it.
KEYBOARD = """() => {
  const said = [];
  const of = (one) => one.outerHTML.slice(0, 90);
  const can = "a[href], button, input, select, textarea, summary";
  for (const one of document.querySelectorAll(can)) {
    if (!one.checkVisibility() || one.type === "hidden" || one.disabled) continue;
    if (one.tabIndex !== 0) {
      said.push(`not reached: ${of(one)}`);
      continue;
    }
    one.focus({ focusVisible: true });
    const shows = (one.matches("input") && one.closest(".key")) || one;
    const style = getComputedStyle(shows);
    if (document.activeElement !== one) said.push(`no focus: ${of(one)}`);
    else if (parseFloat(style.outlineWidth) < 3 || style.outlineStyle === "none")
      said.push(`focus unseen: ${of(one)}`);
  }
  const odd = "[onclick], [role=button], [draggable=true], [tabindex]";
  for (const one of document.querySelectorAll(odd))
    if (!one.matches("main, a, button, [tabindex='0']")) said.push(`odd: ${of(one)}`);
  return said;
}"""
THUMB = """() => [...document.querySelectorAll(
    ".big, .key, .places a, summary, .row-tap, .rows > li > a:only-child, " +
    ".as-link, .also a, .more")]
  .filter((one) => one.checkVisibility() && !one.closest("[hidden]"))
  .filter((one) => Math.round(one.getBoundingClientRect().height) < 64)
  .map((one) => `under a thumb: ${one.outerHTML.slice(0, 90)}`)"""
# What only a hovering mouse would show, or a hand that drags.
HOVER = """() => {
  const said = [];
  for (const sheet of document.styleSheets)
    for (const { selectorText: of } of sheet.cssRules)
      if (of?.includes(":hover")) said.push(of);
  return said;
}"""


def told(page: Page, *checks: str) -> list[Any]:
    return [fault for check in checks for fault in page.evaluate(check)]


def test_every_page_is_reached_by_keyboard_heard_in_order_and_hit_by_a_thumb(
    phone: Phone, demo_plan: Plan
) -> None:
    page = phone()
    found = {}
    for path in addresses():
        if path.startswith("/paper/"):
            continue
        page.goto(path)
        if those := told(page, OUTLINE, THUMB, HOVER, KEYBOARD):
            found[path] = those[:6]
    assert found == {}


def test_the_first_stop_of_the_keyboard_skips_to_the_page(phone: Phone) -> None:
    page = phone()
    page.keyboard.press("Tab")
    skip = page.get_by_role("link", name="To the page")
    expect(skip).to_be_focused()
    expect(skip).to_be_in_viewport()
    page.keyboard.press("Enter")
    expect(page.locator("#main")).to_be_focused()


def test_a_task_is_started_and_stopped_by_keyboard_alone(phone: Phone) -> None:
    page = phone()
    start = page.get_by_role("button", name="Start").first
    start.focus()
    with page.expect_navigation():
        page.keyboard.press("Enter")
    page.locator(".running summary").focus()
    page.keyboard.press("Enter")
    stop = page.get_by_role("button", name="Only stop")
    expect(stop).to_be_visible()
    for _ in range(20):
        page.keyboard.press("Tab")
        if stop.evaluate("one => one === document.activeElement"):
            break
    with page.expect_navigation():
        page.keyboard.press("Enter")
    expect(page.locator(".running")).to_have_count(0)


def test_nothing_moves_where_somebody_asked_for_stillness(phone: Phone) -> None:
    page = phone(reduced_motion="reduce")
    moving = page.evaluate(
        """() => [...document.querySelectorAll("*")].filter((one) => {
          const style = getComputedStyle(one);
          return style.animationName !== "none" || style.scrollBehavior === "smooth"
            || style.transitionDuration.split(",").some((s) => parseFloat(s) > 0);
        }).length"""
    )
    assert moving == 0
    assert page.evaluate("document.getAnimations().length") == 0
