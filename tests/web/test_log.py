"""The shop log: its lines by day, filtered and paged; a line alone; a note."""

from datetime import timedelta
from datetime import timezone as fixed_zone
from io import BytesIO

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image

from fabshop.actions.log import start_work, stop_work
from fabshop.records.log import LogEntry, Photo
from tests.factories import (
    MOMENT,
    BuildFactory,
    ComponentFactory,
    EstimateFactory,
    LogEntryFactory,
    OrderFactory,
    TaskFactory,
)

pytestmark = pytest.mark.django_db


def line(**fields):
    fields.setdefault("at", MOMENT)
    return LogEntryFactory(**fields, server_at=fields["at"])


def test_lines_stand_under_their_day_with_who_and_what(page, helper):
    task = TaskFactory(code="W34", title="Rework joint J07")
    line(kind="stop", person=helper, task=task, minutes=54)
    text = page.get("/log/").text
    assert "<h2>Fri 3 Sep</h2>" in text
    assert ">stop</span> Hal, 54 min" in text
    assert "54 min at the bench today." in text
    assert "Rework joint J07" in text


def test_it_filters_by_build_person_and_day(page, owner, helper):
    build = BuildFactory(slug="gannet")
    line(kind="note", person=owner, build=build, text="hoop tacked")
    line(kind="note", person=helper, text="swept")
    line(kind="note", person=owner, text="older", at=MOMENT - timedelta(days=2))
    by_build = page.get("/log/?build=gannet").text
    assert "hoop tacked" in by_build and "swept" not in by_build
    by_person = page.get(f"/log/?person={helper.pk}").text
    assert "swept" in by_person and "hoop tacked" not in by_person
    by_day = page.get("/log/?day=2027-09-01").text
    assert "older" in by_day and "swept" not in by_day
    assert "No line of the log is like that." in page.get("/log/?build=none").text


def test_a_day_is_the_shops_day_not_that_of_utc(page, owner):
    late = MOMENT.replace(day=2, hour=23, minute=30)  # Fri 3 Sep 00:30 in London
    line(kind="note", person=owner, text="past midnight", at=late)
    assert "past midnight" in page.get("/log/?day=2027-09-03").text
    assert "past midnight" not in page.get("/log/?day=2027-09-02").text


@pytest.mark.parametrize(
    "asked", ["day=soon", "person=x", "before=x_y", "before=_", "day=%00"]
)
def test_rubbish_in_the_address_shows_the_log(page, owner, asked):
    line(kind="note", person=owner, text="still here")
    assert page.get(f"/log/?{asked}").status_code == 200


def test_older_lines_follow_without_gap_or_repeat(page, owner):
    for number in range(90):
        line(kind="note", person=owner, text=f"line-{number:02}-", at=MOMENT)
    seen, path = [], "/log/"
    while path:
        text = page.get(path).text
        seen += [n for n in range(90) if f"line-{n:02}-" in text]
        path = ""
        if "Older lines" in text:
            path = "/log/?" + text.split('href="/log/?')[1].split('"')[0].replace(
                "&amp;", "&"
            )
    assert sorted(seen) == list(range(90))


def test_htmx_gets_the_lines_alone(page, owner):
    line(kind="note", person=owner, text="only me")
    text = page.get("/log/", headers={"HX-Request": "true"}).text
    assert "only me" in text and "<html" not in text


def test_the_log_asks_the_database_the_same_however_long(
    page, owner, django_assert_num_queries
):
    line(kind="note", person=owner, task=TaskFactory(), text="one")
    with django_assert_num_queries(9):
        page.get("/log/")
    for _ in range(45):
        line(kind="note", person=owner, task=TaskFactory(), text="more")
    with django_assert_num_queries(9):
        page.get("/log/")


def test_a_note_is_words_alone(page):
    answer = page.post("/log/note/", {"text": "argon at 18 bar"}, follow=True)
    assert "Kept in the shop log." in answer.text
    assert LogEntry.objects.get().text == "argon at 18 bar"


@pytest.mark.parametrize("code", ["W34", "w34", "T13", "P05", "tuppence"])
def test_a_note_may_be_about_any_code(page, code):
    build = BuildFactory(slug="tuppence")
    TaskFactory(code="W34", build=build)
    ComponentFactory(code="T13", build=build)
    OrderFactory(code="P05", build=build)
    page.post("/log/note/", {"text": "look at this", "about": code})
    entry = LogEntry.objects.get()
    assert entry.build == build


def test_a_note_about_nothing_known_keeps_its_words_on_the_form(page, shop):
    answer = page.post("/log/note/", {"text": "hm", "about": "Z99"})
    assert answer.status_code == 422
    assert "About: nothing here is called “Z99”." in answer.text
    assert ">\nhm</textarea>" in answer.text


def test_an_empty_note_is_refused_in_words(page, shop):
    answer = page.post("/log/note/", {"text": "  "})
    assert answer.status_code == 422
    assert "Nothing is written yet." in answer.text


@pytest.mark.parametrize(
    "text", ["<script>alert(1)</script>", "🔧🔥", "مرحبا", "x" * 21_000, "a\x00b"]
)
def test_row_54_whatever_is_typed_is_kept_and_shown_as_text(page, shop, text):
    answer = page.post("/log/note/", {"text": text}, follow=True)
    assert answer.status_code == 200
    assert "<script>alert" not in answer.text
    assert LogEntry.objects.get().text == text.replace("\x00", "")[:20_000]


def test_a_line_alone_shows_both_times_where_they_differ(page, owner):
    entry = LogEntryFactory(
        person=owner,
        kind="note",
        text="kept on the phone",
        at=MOMENT - timedelta(hours=5),
        server_at=MOMENT,
    )
    text = page.get(f"/log/{entry.client_id}/").text
    assert "Shop log, Fri 3 Sep 01:45" in text
    assert "<dt>Came in</dt><dd>Fri 3 Sep 06:45</dd>" in text


def test_a_line_that_is_not_here_is_a_page_that_says_so(page):
    answer = page.get("/log/unheard-of/")
    assert answer.status_code == 404
    assert "Nothing is kept at this address." in answer.text


def test_a_viewer_reads_the_log_but_writes_no_note(viewers_page, shop):
    assert viewers_page.get("/log/").status_code == 200
    assert viewers_page.post("/log/note/", {"text": "x"}).status_code == 403


def test_a_stranger_reads_nothing(client, shop):
    assert client.get("/log/").url == "/sign-in/?next=%2Flog%2F"


def test_an_undo_within_ten_minutes_writes_a_line_that_takes_it_back(page):
    page.post("/log/note/", {"text": "wrong build", "client_id": "n1"})
    assert "Undo this line" in page.get("/log/n1/").text
    answer = page.post("/log/n1/undo/", follow=True)
    assert "Undone. Both lines stay in the log." in answer.text
    assert ">undone</span>" in answer.text
    assert LogEntry.objects.count() == 2
    assert "Undo this line" not in page.get("/log/n1/").text


def test_after_ten_minutes_it_is_too_late_and_said(page, frozen):
    page.post("/log/note/", {"text": "wrong build", "client_id": "n1"})
    frozen.tick(timedelta(minutes=11))
    assert "Undo this line" not in page.get("/log/n1/").text
    answer = page.post("/log/n1/undo/")
    assert answer.status_code == 409
    assert LogEntry.objects.count() == 1


def picture(name="bench.jpg"):
    sent = BytesIO()
    Image.new("RGB", (60, 40), "grey").save(sent, "JPEG")
    return SimpleUploadedFile(name, sent.getvalue(), "image/jpeg")


def test_row_54_a_note_may_be_a_photo_alone_and_more_may_follow(
    page, settings, tmp_path
):
    settings.MEDIA_ROOT = tmp_path
    sent = {"text": "", "photo": picture(), "client_id": "n1"}
    text = page.post("/log/note/", sent, follow=True).text
    photo = Photo.objects.get()
    assert f'src="/photos/{photo.digest}/thumb/"' in text
    assert page.get(f"/photos/{photo.digest}/thumb/").status_code == 200
    assert ", 1 photo" in page.get("/log/").text


def test_a_file_that_is_no_picture_is_refused_and_the_words_stay(
    page, settings, tmp_path
):
    settings.MEDIA_ROOT = tmp_path
    file = SimpleUploadedFile("../../x.jpg", b"#!/bin/sh", "image/jpeg")
    answer = page.post("/log/note/", {"text": "see", "photo": file}, follow=True)
    assert "Your words are kept, the photo is not." in answer.text
    assert LogEntry.objects.get().text == "see"
    assert not Photo.objects.exists()


def test_a_photo_is_added_to_a_line_or_asked_for(page, settings, tmp_path):
    settings.MEDIA_ROOT = tmp_path
    page.post("/log/note/", {"text": "see", "client_id": "n1"})
    answer = page.post("/log/n1/photo/", {})
    assert answer.status_code == 422
    assert "Choose a photo first." in answer.text
    page.post("/log/n1/photo/", {"photo": picture()})
    assert LogEntry.objects.get().photos.count() == 1


def test_two_at_once_are_people_hours_and_one_hour_on_the_clock(page, owner, helper):
    task = TaskFactory(code="W1")
    EstimateFactory(task=task, minutes=90)
    early = MOMENT - timedelta(hours=3)
    for person in (owner, helper):
        start_work(by=person, task=task, now=MOMENT, at=early)
        end = early + timedelta(hours=1)
        stop_work(by=person, task=task, now=MOMENT, at=end)
    said = "2 h, all people together; 1 h on the clock"
    assert said in page.get("/tasks/W1/").text
    assert (
        "2 h at the bench today, all people together; 1 h on" in page.get("/log/").text
    )


def test_row_16_a_tap_in_another_zone_is_the_same_moment_in_the_shops(page):
    """Row 16: the phone flew; UTC is kept, and the shop's own clock is shown."""
    here = MOMENT - timedelta(minutes=1)
    abroad = here.astimezone(fixed_zone(timedelta(hours=9)))
    sent = MOMENT.astimezone(abroad.tzinfo).isoformat()
    told = {"text": "Landed.", "at": abroad.isoformat(), "sent_at": sent}
    told["client_id"] = "fly"
    page.post("/log/note/", told)
    entry = LogEntry.objects.get(client_id="fly")
    assert entry.at == here
    assert "Shop log, Fri 3 Sep 06:44" in page.get("/log/fly/").text
