"""Whose move: what to send by when, and what a day's slip costs."""

from __future__ import annotations

import pytest

pytestmark = pytest.mark.django_db


def test_days_are_worked_back_from_the_plan_and_say_so(plan_page):
    told = plan_page.get("/plan/whose-move/").text
    assert "P08 Driver figure" in told
    assert "the plan needs it for W29 by" in told
    assert "one day later" in told.lower()
    assert "the plan holds until" in told


def test_what_is_to_be_decided_is_dated(plan_page):
    told = plan_page.get("/plan/whose-move/").text
    assert "To decide" in told
    assert "if P05 Drive pod with belt reduction is not here" in told


def test_without_a_plan_the_days_are_worked_back_from_pack_out(bare_page):
    told = bare_page.get("/plan/whose-move/").text
    assert "the days are worked back from pack-out alone" in told
    assert "P08 Driver figure: last sure day" in told


def test_an_empty_shop_has_nothing_to_send(page):
    assert "Nothing is with you." in page.get("/plan/whose-move/").text
