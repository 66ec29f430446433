"""What was refused is kept, sent again, and then waits no longer."""

import re

import pytest
from django.test import Client

from fabshop.records.log import Draft, LogEntry
from tests.factories import TaskFactory

pytestmark = pytest.mark.django_db
REFUSED = {"text": "look <here>", "about": "Z99"}


def test_what_was_refused_is_kept_under_an_address_of_its_own(page):
    answer = page.post("/log/note/", REFUSED)
    draft = Draft.objects.get()
    assert f'href="/drafts/{draft.pk}/"' in answer.text
    text = page.get(f"/drafts/{draft.pk}/").text
    assert "About: nothing here is called “Z99”." in text
    assert "look &lt;here&gt;" in text
    assert f'href="/drafts/{draft.pk}/"' in page.get("/drafts/").text


def test_the_same_refused_twice_is_one_draft(page):
    for tap in ("a", "b"):
        page.post("/log/note/", {**REFUSED, "client_id": tap})
    assert Draft.objects.count() == 1


def test_sent_again_and_taken_it_waits_no_longer(page):
    refused = page.post("/log/note/", REFUSED).text
    carried = re.search(r'name="draft" value="(\d+)"', refused)[1]
    TaskFactory(code="Z99")
    page.post("/log/note/", {**REFUSED, "draft": carried})
    assert LogEntry.objects.filter(text="look <here>").exists()
    assert Draft.objects.get().settled_at is not None
    assert "Nothing waits" in page.get("/drafts/").text


def test_sent_again_and_refused_otherwise_only_the_newer_waits(page):
    page.post("/log/note/", REFUSED)
    first = Draft.objects.get()
    page.post("/log/note/", {"text": "look", "about": "Z98", "draft": first.pk})
    waiting = Draft.objects.filter(settled_at=None)
    assert [draft.payload["about"] for draft in waiting] == [["Z98"]]


def test_a_bare_tap_that_is_refused_leaves_no_draft(viewers_page):
    viewers_page.post("/tasks/W1/start/", {"client_id": "x", "at": ""})
    assert not Draft.objects.exists()


def test_a_draft_may_be_put_aside_and_stays_kept(page):
    page.post("/log/note/", REFUSED)
    draft = Draft.objects.get()
    page.post(f"/drafts/{draft.pk}/drop/")
    assert "Nothing waits" in page.get("/drafts/").text
    assert "Settled Fri 3 Sep 06:45" in page.get(f"/drafts/{draft.pk}/").text


def test_another_persons_draft_is_theirs_and_the_owners(helpers_page, page, helper):
    helpers_page.post("/log/note/", REFUSED)
    draft = Draft.objects.get()
    assert page.get(f"/drafts/{draft.pk}/").status_code == 200
    page.post("/log/note/", REFUSED)
    mine = Draft.objects.exclude(pk=draft.pk).get()
    answer = helpers_page.get(f"/drafts/{mine.pk}/")
    assert answer.status_code == 403
    assert "That draft is somebody else" in answer.text


def test_a_password_is_in_no_draft(page):
    page.post(
        "/people/password/",
        {"password_now": "secret1", "password": "secret2", "password_again": "no"},
    )
    assert not Draft.objects.exists()


def test_a_stranger_sees_no_draft(page):
    page.post("/log/note/", REFUSED)
    assert Client().get(f"/drafts/{Draft.objects.get().pk}/").status_code == 302


def test_what_a_program_sent_is_shown_but_not_sent_again(page, owner):
    draft = Draft.objects.create(
        person=owner,
        path="/api/notes/",
        payload={"text": "<b>"},
        message="No.",
        at="2027-09-03T05:45Z",
    )
    text = page.get(f"/drafts/{draft.pk}/").text
    assert "&lt;b&gt;" in text
    assert "Try it again" not in text
