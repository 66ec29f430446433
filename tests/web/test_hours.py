"""The hours pages: what there is, hours that overlap, a week, a day that differs."""

from datetime import date, timedelta

import pytest

from fabshop.records.shop import Day, Window
from tests.factories import (
    MOMENT,
    BuildFactory,
    EstimateFactory,
    TaskFactory,
    WindowFactory,
)

pytestmark = pytest.mark.django_db
# Session, person, shop, timer, hours and days of the page; the rest is the snapshot.
QUERIES = 28


def test_hours_are_listed_by_day_with_the_weekday(page, owner):
    WindowFactory(person=owner, on=date(2027, 9, 4), from_minute=540, to_minute=1020)
    text = page.get("/hours/").text
    assert "Sat 4 Sep" in text
    assert "09:00 to 17:00" in text


def test_an_empty_calendar_says_so_and_shows_where_to_fill_it(page):
    text = page.get("/hours/").text
    assert "No hours are entered after Fri 3 Sep." in text
    assert 'href="/hours/add/"' in text


def test_hours_that_overlap_are_merged_and_it_is_said(page, owner):
    WindowFactory(person=owner, on=date(2027, 9, 4), from_minute=540, to_minute=720)
    answer = page.post(
        "/hours/add/",
        {"on": "2027-09-04", "from_minute": "11:00", "to_minute": "13"},
        follow=True,
    )
    assert "Merged with 09:00 to 12:00" in answer.text
    assert Window.objects.get().to_minute == 13 * 60


def test_hours_that_end_before_they_begin_are_refused_at_their_field(page):
    answer = page.post(
        "/hours/add/",
        {"on": "2027-09-04", "from_minute": "17:00", "to_minute": "09:00"},
    )
    assert answer.status_code == 422
    assert "Hours end before they begin: 17:00 to 09:00." in answer.text
    assert 'value="17:00"' in answer.text
    assert not Window.objects.exists()


def test_a_time_that_is_none_and_a_missing_day_are_both_named(page):
    answer = page.post("/hours/add/", {"from_minute": "soon", "to_minute": "25:99"})
    assert answer.status_code == 422
    assert "Day: nothing is written. It is needed." in answer.text
    assert "From: “soon” is not a time of day, like 19:00." in answer.text


def test_a_week_is_filled_up_to_its_last_day(page, owner):
    page.post(
        "/hours/week/",
        {
            "monday-from": "19:00",
            "monday-to": "22:00",
            "from_on": "2027-09-03",
            "to_on": "2027-09-20",
        },
    )
    days = Window.objects.filter(person=owner).values_list("on", flat=True)
    assert list(days) == [date(2027, 9, d) for d in (6, 13, 20)]


def test_half_a_pair_of_times_is_refused_and_the_rest_comes_back(page):
    answer = page.post(
        "/hours/week/", {"monday-from": "19:00", "sunday-from": "10", "sunday-to": "16"}
    )
    assert answer.status_code == 422
    assert "Monday: give both times, or neither." in answer.text
    assert 'value="16"' in answer.text


def test_a_day_that_differs_is_kept_and_shown(page, owner):
    page.post(
        "/hours/day/",
        {
            "on": "2027-09-11",
            "nothing_running": "yes",
            "no_deliveries": "yes",
            "quiet_until_minute": "11:00",
            "note": "wedding",
        },
    )
    day = Day.objects.get()
    assert not day.may_run_machines and not day.has_deliveries and not day.is_off
    text = page.get("/hours/").text
    assert "nothing left running" in text
    assert "Quiet until 11:00." in text
    assert "wedding" in text


def test_hours_taken_out_are_gone_and_a_second_tap_is_harmless(page, owner):
    window = WindowFactory(person=owner, on=date(2027, 9, 4))
    assert page.post(f"/hours/{window.pk}/remove/").status_code == 302
    assert page.post(f"/hours/{window.pk}/remove/").status_code == 404
    assert not Window.objects.exists()


def test_a_helper_reads_hours_but_may_not_set_them(helpers_page):
    assert helpers_page.get("/hours/").status_code == 200
    answer = helpers_page.post("/hours/add/", {"on": "2027-09-04"})
    assert answer.status_code == 403
    assert "Only the owner does that." in answer.text


def test_the_page_asks_the_database_the_same_however_full(
    page, owner, helper, django_assert_num_queries
):
    EstimateFactory(task=TaskFactory(build=BuildFactory()), minutes=60)
    page.get("/hours/")
    for day in range(3, 23):
        WindowFactory(person=owner, on=date(2027, 9, day))
        WindowFactory(person=helper, on=date(2027, 9, day))
    with django_assert_num_queries(QUERIES):
        page.get("/hours/")


def test_hours_are_set_against_the_work_that_is_left(page, owner):
    build = BuildFactory(pack_out_at=MOMENT + timedelta(days=2))
    EstimateFactory(task=TaskFactory(build=build), minutes=600)
    WindowFactory(person=owner, on=date(2027, 9, 4), from_minute=540, to_minute=1020)
    text = " ".join(page.get("/hours/").text.split())
    assert "8 h at the bench until packing closes, Sun 5 Sep 06:45." in text
    assert "The work that is left takes 10 h by the shop's own factors" in text
    assert "not all of it can be done" in text
