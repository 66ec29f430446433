"""Text at twice its size still fits, and the keyboard reaches what a thumb does."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page

from fabshop import words
from fabshop.records.plan import Plan
from fabshop.records.task import Task
from tests.browser.conftest import Phone

pytestmark = pytest.mark.django_db(transaction=True)

MAIN_PAGES = ("/", "/log/", "/orders/", "/builds/tuppence/", "/goods-in/")

# Lines of text that lie over one another; a pixel or two is the letters' own air.
OVERLAPS = """() => {
  const boxes = [];
  for (const part of document.querySelectorAll("main, .thumb")) {
    const words = document.createTreeWalker(part, NodeFilter.SHOW_TEXT);
    while (words.nextNode()) {
      const node = words.currentNode;
      const around = node.parentElement;
      if (!node.data.trim() || around.closest(".hidden, script")) continue;
      if (!around.checkVisibility()) continue;  // folded away
      const range = document.createRange();
      range.selectNodeContents(node);
      for (const box of range.getClientRects()) {
        if (box.width > 2 && box.height > 2) boxes.push([part, node, box]);
      }
    }
  }
  const over = [];
  for (const [k, [part, node, a]] of boxes.entries()) {
    for (const [other, text, b] of boxes.slice(k + 1, k + 60)) {
      if (part !== other || node === text) continue;
      const wide = Math.min(a.right, b.right) - Math.max(a.left, b.left);
      const high = Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top);
      if (wide > 2 && high > 4) over.push(`${node.data.trim()} / ${text.data.trim()}`);
    }
  }
  return over;
}"""
CUT = """() => [...document.querySelectorAll("main *, .thumb *")]
  .filter((one) => one.scrollWidth > one.clientWidth + 1 && one.clientWidth > 1)
  .filter((one) => !one.closest(".table, .hidden, svg, input, select, textarea"))
  .filter((one) => one.checkVisibility() && getComputedStyle(one).display !== "inline")
  .map((one) => one.outerHTML.slice(0, 120))"""


def sideways(page: Page) -> int:
    page_is = "document.documentElement"
    return int(page.evaluate(f"{page_is}.scrollWidth - {page_is}.clientWidth"))


def faults(page: Page, path: str) -> list[str]:
    page.goto(path)
    found = [f"over: {over}" for over in page.evaluate(OVERLAPS)]
    found += [f"cut: {cut}" for cut in page.evaluate(CUT)]
    return found + (["scrolls sideways"] if sideways(page) > 0 else [])


@pytest.mark.parametrize("width", [390, 320, 195])
def test_nothing_overlaps_is_cut_or_scrolls_sideways(
    phone: Phone, demo_plan: Plan, width: int
) -> None:
    """195 px is what 390 px leaves when the page is zoomed to 200 %."""
    page = phone(viewport={"width": width, "height": 844 * width // 390})
    paths = (*MAIN_PAGES, f"/plans/{demo_plan.pk}/")
    found = {path: faults(page, path) for path in paths}
    assert {path: those for path, those in found.items() if those} == {}


def test_the_phones_own_text_at_twice_the_size_fits_too(
    phone: Phone, demo_plan: Plan
) -> None:
    page = phone()
    found = {}
    for path in (*MAIN_PAGES, f"/plans/{demo_plan.pk}/"):
        page.goto(path)
        page.add_style_tag(content="html { font-size: 225% !important }")
        over, cut = page.evaluate(OVERLAPS), page.evaluate(CUT)
        if over or cut or sideways(page) > 0:
            found[path] = (over, cut, sideways(page))
    assert found == {}


def test_a_running_task_leaves_room_for_the_page_and_its_words_their_keys(
    phone: Phone,
) -> None:
    page = phone()
    with page.expect_navigation():
        page.get_by_role("button", name="Start").first.tap()
    page.locator(".running summary").tap()
    assert page.evaluate(OVERLAPS) == []
    assert page.evaluate(CUT) == []


def test_the_keyboard_alone_reaches_start(phone: Phone) -> None:
    page = phone(has_touch=False, is_mobile=False)
    label = "document.activeElement.innerText"
    for _ in range(40):
        page.keyboard.press("Tab")
        if str(page.evaluate(label)).startswith("Start"):
            break
    ring = page.evaluate("getComputedStyle(document.activeElement).outlineWidth")
    assert ring == "4px", "what has the focus shows it"
    with page.expect_navigation():
        page.keyboard.press("Enter")
    assert Task.objects.filter(state=words.TaskState.UNDER_WAY).exists()
