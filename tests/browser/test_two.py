"""Two phones on one thing: each sees the other, and neither loses what it said."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from fabshop.records.log import Draft
from fabshop.records.order import Receipt
from fabshop.records.plan import Plan, StepTick
from fabshop.records.stock import Cut, Piece
from tests.browser.conftest import Phone
from tests.browser.test_outbox import kept

pytestmark = pytest.mark.django_db(transaction=True)
OTHER = "Teodor"


def other(phone: Phone) -> Page:
    return phone(name=OTHER)


def test_the_same_parcel_counted_by_two_asks_the_second(phone: Phone) -> None:
    mine, theirs = phone(), other(phone)
    for page in (mine, theirs):
        page.goto("/orders/P04/goods-in/")
    for page in (mine, theirs):
        page.get_by_role("button", name="all good").tap()
        page.get_by_role("button", name="Book in").tap()
        if page is mine:
            page.wait_for_url("**/counted/")
    asked = theirs.get_by_role("alert")
    expect(asked).to_contain_text("lready booked")
    asked.get_by_role("button", name="Same parcel").tap()
    theirs.wait_for_url("**/counted/")
    assert Receipt.objects.filter(accepted_milli=14_000).count() == 1


def test_the_same_parcel_counted_without_network_is_a_draft_that_asks(
    phone: Phone,
) -> None:
    mine, theirs = phone(), other(phone)
    theirs.goto("/orders/P04/goods-in/")
    theirs.context.set_offline(True)
    theirs.get_by_role("button", name="all good").tap()
    theirs.get_by_role("button", name="Book in").tap()
    kept(theirs, 1)
    mine.goto("/orders/P04/goods-in/")
    mine.get_by_role("button", name="all good").tap()
    mine.get_by_role("button", name="Book in").tap()
    mine.wait_for_url("**/counted/")
    theirs.context.set_offline(False)
    kept(theirs, 0)
    draft = Draft.objects.get()
    assert "lready booked" in draft.message
    theirs.goto(f"/drafts/{draft.pk}/")
    theirs.get_by_role("button", name="Try it again").tap()
    theirs.get_by_role("button", name="Same parcel").tap()
    theirs.wait_for_url("**/counted/")
    assert Receipt.objects.filter(accepted_milli=14_000).count() == 1


def test_each_sees_the_others_ticks_within_ten_seconds(
    phone: Phone, demo_plan: Plan
) -> None:
    mine, theirs = phone(), other(phone)
    theirs.goto(f"/plans/{demo_plan.pk}/")
    mine.goto(f"/plans/{demo_plan.pk}/steps/1/")
    mine.get_by_role("button", name="Off", exact=True).tap()
    mine.wait_for_url("**/steps/2/")
    steps = theirs.locator("#steps")
    expect(steps).to_contain_text("1 of 46 steps ticked.", timeout=10_000)
    theirs.goto(f"/plans/{demo_plan.pk}/steps/2/")
    theirs.get_by_role("button", name="Off", exact=True).tap()
    theirs.wait_for_url("**/steps/3/")
    # A step that somebody ticked meanwhile says so by itself, and twice is once.
    told = mine.locator("#tick")
    expect(told).to_contain_text(f"Ticked by {OTHER}", timeout=10_000)
    assert StepTick.objects.filter(is_done=True).count() == 2


def test_row_33_two_cuts_of_one_piece_without_network_are_both_kept(
    phone: Phone,
) -> None:
    pages = [phone(), other(phone)]
    for page in pages:
        page.clock.install()
        page.goto("/pieces/M10/cut/")
        page.context.set_offline(True)
        page.get_by_label("Length to cut").fill("218")
        page.get_by_role("button", name="Cut", exact=True).tap()
        kept(page, 1)
    for page in pages:
        page.clock.fast_forward("30:00")
        page.context.set_offline(False)
        kept(page, 0)
    assert Cut.objects.filter(piece__code="M10").count() == 2
    assert Piece.objects.with_left().get(code="M10").left_um < 0
    assert not Draft.objects.exists()
    pages[0].goto("/pieces/M10/")
    expect(pages[0].locator("main")).to_contain_text(re.compile("measure it", re.I))
