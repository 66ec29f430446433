"""What a phone is taken out for, tap by tap, from the opened home page."""

from __future__ import annotations

import re
from datetime import timedelta

import pytest
from playwright.sync_api import Page, expect

from fabshop import words
from fabshop.records.idea import Idea
from fabshop.records.log import LogEntry
from fabshop.records.order import Order, Promise, Receipt, Settlement
from fabshop.records.overnight import Run
from fabshop.records.stock import Cut, Piece
from fabshop.records.task import Task
from tests.browser.conftest import Phone, Taps
from tests.browser.tap_table import counted
from tests.browser.test_outbox import kept
from tests.factories import MOMENT

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.fixture
def page(phone: Phone) -> Page:
    return phone()


def test_s1_what_now(page: Page) -> None:
    taps = Taps(page)
    key = page.get_by_role("link", name="40 min", exact=True)
    taps.on(key)
    expect(key).to_have_attribute("aria-current", "true")
    rows = page.get_by_role("list", name="What can be started")
    expect(rows).not_to_contain_text("1 h")
    taps.through(rows.get_by_role("link").first)
    taps.through(page.get_by_role("button", name=re.compile("^Start( all the same)?$")))
    assert Task.objects.filter(state=words.TaskState.UNDER_WAY).count() == 1
    bar = page.locator(".running summary").bounding_box()
    assert bar is not None and bar["width"] == 390
    counted(taps, "S1 What now: 40 minutes, a job, Start", 3)


@pytest.mark.parametrize(
    ("key", "what", "kind"),
    [
        ("½ left", "part-done", words.EntryKind.PART_DONE),
        ("a part", "stuck on a part", words.EntryKind.STUCK),
        ("Done", "done", words.EntryKind.DONE),
    ],
)
def test_s2_stop_and_log(page: Page, key: str, what: str, kind: str) -> None:
    page.get_by_role("button", name="Start").first.tap()
    panel = page.locator("details.running")
    taps = Taps(page)
    taps.on(panel.locator("summary"))
    taps.through(panel.get_by_role("button", name=key, exact=True))
    assert LogEntry.objects.filter(kind=kind, server_at__gte=MOMENT).count() == 1
    counted(taps, f"S2 Stop: {what}", 3)


def test_s3_a_parcel_that_is_all_there(page: Page) -> None:
    taps = Taps(page)
    to_p04(page, taps)
    taps.on(page.get_by_role("button", name="all good", exact=False).first)
    taps.through(page.get_by_role("button", name="Book in"))
    receipt = Receipt.objects.get(line__order__code="P04")
    assert receipt.accepted_milli == 14_000
    expect(page.get_by_role("status")).to_contain_text("W61")
    counted(taps, "S3 A parcel: all of it is there", 4)


def test_s3_a_parcel_two_short(page: Page) -> None:
    taps = Taps(page)
    to_p04(page, taps)
    taps.on(page.get_by_role("button", name="all but 2 good"))
    taps.through(page.get_by_role("button", name="Book in"))
    taps.through(page.get_by_role("button", name="Rest coming"))
    assert Receipt.objects.get(line__order__code="P04").accepted_milli == 12_000
    assert Settlement.objects.get(line__order__code="P04").how == words.Settled.COMING
    counted(taps, "S3 A parcel: 12 of 14, rest coming", 5)


def test_s3_a_parcel_with_a_wrong_one(page: Page) -> None:
    taps = Taps(page)
    to_p04(page, taps)
    taps.on(page.get_by_role("button", name="all but 1 good"))
    taps.on(page.locator("summary", has_text="Not as drawn"))
    taps.on(page.get_by_text("a hole", exact=True))
    taps.through(page.get_by_role("button", name="Book in"))
    receipt = Receipt.objects.get(line__order__code="P04")
    assert (receipt.accepted_milli, receipt.wrong_milli) == (13_000, 1000)
    assert receipt.wrong_why == words.WrongWhy.HOLE
    expect(page.locator("main")).to_contain_text("penalty shelf")
    counted(taps, "S3 A parcel: one has a wrong hole", 6)


def test_s3_a_box_left_shut(page: Page) -> None:
    taps = Taps(page)
    to_p04(page, taps)
    taps.through(page.get_by_role("button", name="Still in the box"))
    expect(page.locator(".lead").first).to_contain_text("still in the box")
    counted(taps, "S3 A parcel: left shut", 3)


def to_p04(page: Page, taps: Taps) -> None:
    taps.through(page.get_by_role("link", name="Goods in", exact=True))
    taps.through(page.get_by_role("link", name=re.compile("^P04 ")))


def test_s4_a_day_slips(page: Page) -> None:
    taps = Taps(page)
    taps.through(page.get_by_role("link", name="On the way"))
    taps.through(page.get_by_role("link", name=re.compile("^P06 ")).first)
    taps.through(page.get_by_role("link", name="Slipped", exact=True))
    taps.on(page.get_by_role("button", name=re.compile(r"\+3 d")))
    told = page.get_by_role("status").first
    expect(told).to_contain_text("W21, W65 can no longer be done in time")
    taps.through(page.get_by_role("button", name=re.compile("^Save Tue 21 Sep")))
    said = Promise.objects.filter(order__code="P06").order_by("at", "pk")
    assert [one.eta_on.day for one in said if one.eta_on] == [10, 18, 21]
    counted(taps, "S4 A day slips: P06 by three days", 5)


def test_s5_the_ball_is_with_me(page: Page) -> None:
    taps = Taps(page)
    taps.through(page.get_by_role("link", name=re.compile("^Send tonight: P08")))
    expect(page.locator("main")).to_contain_text("Last sure day to send: Sat 4 Sep")
    taps.through(page.get_by_role("button", name="Sent", exact=True))
    assert Order.objects.get(code="P08").sent_on == MOMENT.date()
    counted(taps, "S5 The ball is with me: P08 sent", 3)


def test_s9_a_length_cut_from_a_drop(page: Page) -> None:
    taps = Taps(page)
    taps.through(page.get_by_role("link", name="Rack", exact=True))
    taps.keys(page.get_by_label("What length do you need?"), "218")
    first = page.locator("#found ~ form .rows > li").first
    expect(first).to_contain_text("M10 347 mm")
    expect(first).to_contain_text("leaves 127.8 mm")
    taps.through(first.get_by_role("button", name="Cut"))
    assert Cut.objects.get().piece == Piece.objects.get(code="M10")
    counted(taps, "S9 218 mm of 8 × 1 cut from a drop", 6)


def test_s9_what_was_really_cut_is_booked(page: Page) -> None:
    taps = Taps(page)
    taps.through(page.get_by_role("link", name="Rack", exact=True))
    taps.keys(page.get_by_label("What length do you need?"), "218")
    really = page.get_by_label("If it came out different")
    expect(really).to_have_value("218 mm")
    really.fill("")
    taps.keys(really, "219")
    taps.through(page.get_by_role("button", name="Cut 218 mm from M10"))
    assert Cut.objects.get().part == 219_000
    taps.told("S9 219 mm came off: the length typed anew", 10)


def test_s10_a_long_run_before_bed(page: Page, settings: object) -> None:
    settings.NOW = MOMENT + timedelta(hours=14, minutes=45)  # type: ignore[attr-defined]
    page.goto("/")
    taps = Taps(page)
    taps.through(page.get_by_role("link", name=re.compile("^Machines tonight")))
    taps.through(page.get_by_role("button", name=re.compile("^W51 started")))
    run = Run.objects.get()
    assert run.task.code == "W51"
    counted(taps, "S10 A run begun before bed", 2)
    settings.NOW = run.due_at + timedelta(hours=1)  # type: ignore[attr-defined]
    page.goto("/")
    taps = Taps(page)
    taps.through(page.get_by_role("link", name=re.compile("^Small printer was due")))
    expect(page.locator("main")).to_contain_text("due, not confirmed")
    taps.through(page.get_by_role("button", name="W51 came out"))
    run.refresh_from_db()
    assert run.verdict == words.RunVerdict.CAME_OUT
    counted(taps, "S10 In the morning: it came out", 2)


def test_s11_an_idea_goes_on_the_wall(page: Page) -> None:
    taps = Taps(page)
    taps.through(page.get_by_role("link", name="+ note"))
    expect(page.get_by_label("What is it?")).to_be_focused()
    page.keyboard.type("Brass lamp rings")
    taps.through(page.get_by_role("button", name="To the Chalk wall"))
    assert Idea.objects.get().text == "Brass lamp rings"
    expect(page.get_by_role("status")).to_contain_text("The plan does not move.")
    counted(taps, "S11 An idea on the Chalk wall, besides the typing", 2)


def test_s12_broken_in_the_pit_without_a_signal(page: Page) -> None:
    taps = Taps(page)
    taps.through(page.get_by_role("link", name="Pit", exact=True))
    page.context.set_offline(True)
    part = page.locator("#T25")
    taps.on(part.locator("summary"))
    expect(part).to_contain_text("Wheels, set of 4")
    expect(part).to_contain_text("2 for M4×12 SH")
    taps.on(part.get_by_role("button", name="T25 broke"))
    kept(page, 1)
    counted(taps, "S12 Pit: what comes off first, and Broke", 3)
    page.context.set_offline(False)
    kept(page, 0)
    assert LogEntry.objects.get(kind="broke").component.code == "T25"  # type: ignore[union-attr]
