"""When somebody is in besides the bench hours: a line for each weekday."""

from __future__ import annotations

import pytest

from fabshop.records.schedule import Presence

pytestmark = pytest.mark.django_db


def rows() -> list[tuple[int, int, int]]:
    return list(Presence.objects.values_list("weekday", "from_minute", "to_minute"))


def test_the_owner_sets_the_week_and_reads_it_again(page):
    typed = {"monday": "06:45 to 07:30, 12.30-13.00", "sunday": "9:00 – 9:30"}
    answer = page.post("/hours/presence/", typed)
    assert answer.status_code == 302
    assert rows() == [(0, 405, 450), (0, 750, 780), (6, 540, 570)]
    assert "06:45 to 07:30, 12:30 to 13:00" in page.get("/hours/presence/").text


@pytest.mark.parametrize("typed", ["soon", "7-8", "06:45", "25:00 to 26:00", "\0"])
def test_what_is_no_time_is_refused_at_its_day_and_nothing_changes(page, typed):
    page.post("/hours/presence/", {"monday": "06:45 to 07:30"})
    answer = page.post("/hours/presence/", {"tuesday": typed or "x"})
    if typed != "\0":
        assert answer.status_code == 422
        assert rows() == [(0, 405, 450)]
    assert answer.status_code < 500


def test_an_end_before_the_beginning_is_refused(page):
    answer = page.post("/hours/presence/", {"monday": "08:00 to 07:00"})
    assert answer.status_code == 422
    assert "must end after it begins" in answer.text


def test_spans_that_begin_at_once_are_refused_in_words(page):
    typed = {"monday": "08:00 to 09:00, 08:00 to 10:00"}
    answer = page.post("/hours/presence/", typed)
    assert answer.status_code == 422
    assert rows() == []


def test_only_the_owner_sets_them(helpers_page):
    assert helpers_page.get("/hours/presence/").status_code == 403
