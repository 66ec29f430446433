"""A phone without network, on plain http: what is tapped stays, and comes in once."""

from __future__ import annotations

import base64
from datetime import timedelta
from io import BytesIO
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import Page, Route, expect

from fabshop.records.log import LogEntry, PhotoUse
from fabshop.records.task import Task
from tests.browser.conftest import LAN, Phone

pytestmark = pytest.mark.django_db(transaction=True)
# How large what is kept on the phone is.
SIZES = """async () => {
  const { all } = await import("shop/store");
  return (await all()).map((entry) => entry.files[0][1].size);
}"""
SEND = 'button:has-text("Keep it")'


@pytest.fixture
def page(phone: Phone, shop_open: str) -> Page:
    """A phone on the house network, where nothing is secure but the door."""
    return phone(base_url=shop_open.replace("localhost", LAN))


def kept(page: Page, count: int) -> None:
    words = f"{count} kept on this phone" if count else "all in"
    expect(page.locator("#kept")).to_have_text(words, timeout=20_000)


def note(page: Page, text: str) -> None:
    page.get_by_label("What is it?").fill(text)
    page.locator(SEND).tap()


def notes() -> list[str]:
    return list(LogEntry.objects.filter(kind="note").values_list("text", flat=True))


def test_nothing_that_a_plain_address_lacks_is_needed(page: Page) -> None:
    lacks = page.evaluate(
        "[isSecureContext, 'serviceWorker' in navigator,"
        " typeof crypto.randomUUID, 'locks' in navigator]"
    )
    assert lacks == [False, False, "undefined", False]
    kept(page, 0)


def test_an_evening_without_network_comes_in_once_and_in_order(page: Page) -> None:
    page.goto("/log/note/")
    page.context.set_offline(True)
    for text in ("Cut the loop.", "Tacked it.", "Tea."):
        note(page, text)
        expect(page.locator(".told").first).to_contain_text("Kept on this phone")
    kept(page, 3)
    assert notes() == []
    page.context.set_offline(False)
    kept(page, 0)
    entries = LogEntry.objects.filter(kind="note").order_by("at", "id")
    assert [entry.text for entry in entries] == ["Cut the loop.", "Tacked it.", "Tea."]


def test_a_start_and_a_stop_without_network_book_the_time_between(page: Page) -> None:
    page.goto("/tasks/W34/")
    page.context.set_offline(True)
    page.get_by_role("button", name="Start").first.tap()
    stop = page.locator("#kept-stop button")
    expect(stop).to_contain_text("Stop W34")
    page.evaluate("window.kept_at = Date.now()")
    stop.tap()
    kept(page, 2)
    page.context.set_offline(False)
    kept(page, 0)
    kinds = ["start", "stop"]
    start, end = LogEntry.objects.filter(task__code="W34", kind__in=kinds).order_by(
        "id"
    )
    assert [start.kind, end.kind] == kinds
    assert timedelta(0) <= end.at - start.at < timedelta(minutes=2)


@pytest.mark.parametrize("cut", ["before", "after"])
def test_a_cut_before_or_after_the_shop_took_it_doubles_nothing(
    page: Page, cut: str
) -> None:
    page.goto("/log/note/")

    def fall(route: Route) -> None:
        if cut == "after":
            heard = route.request.all_headers() | {"origin": "", "host": ""}
            heard = {name: value for name, value in heard.items() if value}
            there = route.request.url.replace(LAN, "localhost")
            route.fetch(url=there, headers=heard)
        route.abort()

    page.route("**/log/note/", fall)
    note(page, "A crack at the toe.")
    kept(page, 1)
    assert notes() == (["A crack at the toe."] if cut == "after" else [])
    page.unroute("**/log/note/")
    page.evaluate("dispatchEvent(new Event('online'))")
    kept(page, 0)
    assert notes() == ["A crack at the toe."]


def test_what_is_kept_survives_a_dead_phone_and_a_page_that_is_left(page: Page) -> None:
    page.goto("/log/note/")
    page.route("**/log/note/", lambda route: route.abort())
    note(page, "Before it died.")
    kept(page, 1)
    page.unroute("**/log/note/")
    page.goto("about:blank")
    page.goto("/kept/")
    kept(page, 0)
    assert notes() == ["Before it died."]


def test_a_half_written_note_is_there_again_after_the_phone_died(page: Page) -> None:
    page.goto("/log/note/")
    page.get_by_label("What is it?").fill("The left hoop is 2 mm")
    page.wait_for_timeout(2_500)
    page.reload()
    expect(page.get_by_label("What is it?")).to_have_value("The left hoop is 2 mm")


def test_a_photo_goes_small_after_the_words_and_may_fail_alone(page: Page) -> None:
    page.goto("/log/note/")
    page.route("**/photo/", lambda route: route.abort())
    seen = BytesIO()
    Image.effect_noise((3000, 2400), 90).convert("RGB").save(seen, "JPEG", quality=95)
    photo: Any = {"name": "a.jpg", "mimeType": "image/jpeg", "buffer": seen.getvalue()}
    page.get_by_label("Photo").set_input_files(photo)
    note(page, "With a picture.")
    page.wait_for_url("**/log/*-*/")
    kept(page, 1)
    assert notes() == ["With a picture."]
    [size] = page.evaluate(SIZES)
    assert size < len(seen.getvalue()) / 2
    page.unroute("**/photo/")
    page.evaluate("dispatchEvent(new Event('online'))")
    kept(page, 0)
    use = PhotoUse.objects.get()
    assert use.entry is not None and use.entry.text == "With a picture."


def test_what_no_longer_fits_is_said_and_kept_as_a_draft(page: Page) -> None:
    page.goto("/tasks/W34/")
    page.context.set_offline(True)
    page.get_by_role("button", name="Start").first.tap()
    kept(page, 1)
    Task.objects.filter(code="W34").update(state="given-up")
    page.context.set_offline(False)
    kept(page, 0)
    expect(page.locator(".told").first).to_contain_text("did not fit any more")


def test_where_the_phone_has_no_database_it_keeps_in_the_next_best(
    phone: Phone, shop_open: str
) -> None:
    page = phone(base_url=shop_open.replace("localhost", LAN))
    page.add_init_script("indexedDB.open = () => { throw new Error('shut') }")
    page.goto("/log/note/")
    page.route("**/log/note/", lambda route: route.abort())
    dot = base64.b64decode(
        "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9"
        "awAAAABJRU5ErkJggg=="
    )
    page.get_by_label("Photo").set_input_files(
        {"name": "dot.png", "mimeType": "image/png", "buffer": dot}
    )
    note(page, "In the next best place.")
    kept(page, 2)
    page.unroute("**/log/note/")
    page.reload()
    kept(page, 0)
    assert notes() == ["In the next best place."]
    assert PhotoUse.objects.count() == 1
