"""What was kept on a phone is answered once for each id, and never half taken."""

from __future__ import annotations

import errno
from datetime import datetime, timedelta
from typing import Any

import pytest
from django.db import OperationalError
from django.test import Client
from django.utils import timezone
from pytest_django import DjangoAssertNumQueries

from fabshop.records.log import Draft, KeptAnswer, LogEntry
from fabshop.records.order import Supplier
from fabshop.records.shop import Person, Shop
from fabshop.records.task import Task
from fabshop.web import log
from tests.factories import BuildFactory, ComponentFactory, TaskFactory

pytestmark = pytest.mark.django_db
ID = "5b1f6f64-7f3b-4f4e-9a66-0d4b7f1f3a01"


def sent(client: Client, path: str, key: str = ID, **fields: Any) -> Any:
    return client.post(path, {"client_id": key, **fields}, headers={"X-Kept": key})


def test_the_same_id_is_taken_once_and_answered_the_same(page: Client) -> None:
    first = sent(page, "/log/note/", text="Found a crack.")
    again = sent(page, "/log/note/", text="Found a crack.")
    assert (first.status_code, again.status_code) == (200, 200)
    assert first.headers["X-To"] == again.headers["X-To"] == f"/log/{ID}/"
    assert first.headers["X-Kept"] == again.headers["X-Kept"] == ID
    assert LogEntry.objects.filter(text="Found a crack.").count() == 1


def test_what_takes_no_id_of_its_own_is_not_done_twice_either(page: Client) -> None:
    for _ in range(2):
        answer = sent(page, "/suppliers/new/", name="Anvil & Sons")
        assert answer.headers["X-To"] == "/orders/new/"
    assert Supplier.objects.filter(name="Anvil & Sons").count() == 1


def test_what_no_longer_fits_is_a_draft_once_and_named(page: Client) -> None:
    task = TaskFactory(code="W1", state="given-up")
    first = sent(page, f"/tasks/{task.code}/start/")
    again = sent(page, f"/tasks/{task.code}/start/")
    assert first.status_code == again.status_code >= 400
    assert first.text == again.text
    assert KeptAnswer.objects.count() == 1
    assert Draft.objects.count() <= 1
    assert LogEntry.objects.count() == 0


def test_a_phone_that_is_signed_out_is_told_so_and_nothing_is_taken(
    client: Client, shop: Shop
) -> None:
    answer = sent(client, "/log/note/", text="Later.")
    assert answer.status_code == 401
    assert not KeptAnswer.objects.exists()


def test_a_fault_leaves_nothing_and_the_same_id_may_come_again(
    page: Client, monkeypatch: pytest.MonkeyPatch
) -> None:
    page.raise_request_exception = False

    def falls_over(*args: Any, **kwargs: Any) -> None:
        raise ZeroDivisionError

    with monkeypatch.context() as broken:
        broken.setattr(log, "keep_photos", falls_over)
        answer = sent(page, "/log/note/", text="A note.")
    assert answer.status_code == 500
    assert "X-Kept" not in answer.headers
    assert (LogEntry.objects.count(), KeptAnswer.objects.count()) == (0, 0)
    assert sent(page, "/log/note/", text="A note.").headers["X-Kept"] == ID
    assert LogEntry.objects.count() == 1


@pytest.mark.parametrize(
    "fault",
    [OperationalError("database is locked"), OSError(errno.ENOSPC, "No space left")],
)
def test_row_62_a_full_disk_or_a_locked_database_is_503_and_the_phone_keeps(
    page: Client, monkeypatch: pytest.MonkeyPatch, fault: Exception
) -> None:
    def fails(*args: Any, **kwargs: Any) -> None:
        raise fault

    monkeypatch.setattr(log, "note", fails)
    for headers in ({"X-Kept": ID}, {}):
        answer = page.post("/log/note/", {"text": "A note."}, headers=headers)
        assert answer.status_code == 503
        assert "nothing was taken" in answer.text
        assert "X-Kept" not in answer.headers


def test_one_persons_id_says_nothing_about_anothers(
    page: Client, helpers_page: Client, helper: Person, owner: Person
) -> None:
    sent(page, "/log/note/", text="Mine.")
    answer = sent(helpers_page, "/log/note/", text="Theirs.")
    assert answer.status_code == 409
    assert LogEntry.objects.get().text == "Mine."


def test_words_go_first_and_say_that_photos_follow(page: Client) -> None:
    answer = sent(page, "/log/note/", text="", photo_follows="1")
    assert answer.headers["X-To"] == f"/log/{ID}/"
    assert LogEntry.objects.get().text == ""


def test_the_page_of_what_is_kept_asks_for_no_list_of_the_shop(
    page: Client, django_assert_max_num_queries: DjangoAssertNumQueries
) -> None:
    Task.objects.all()
    with django_assert_max_num_queries(6):
        answer = page.get("/kept/")
    assert "Kept on this phone" in answer.text


def test_row_17_a_phone_whose_clock_is_days_off_is_put_right_and_told(
    page: Client, now: datetime
) -> None:
    days = timedelta(days=4)
    sending = (timezone.now() + days).isoformat()
    # Tapped 50 minutes before it was sent, by a clock four days ahead.
    tapped = (timezone.now() + days - timedelta(minutes=50)).isoformat()
    answer = sent(page, "/log/note/", text="Tapped.", at=tapped, sent_at=sending)
    assert answer.headers["X-To"]
    entry = LogEntry.objects.get()
    assert abs(entry.at - (now - timedelta(minutes=50))) < timedelta(seconds=5)
    assert entry.server_at == now
    assert "clock is 96 h ahead." in page.get("/").text


def test_row_63_two_hundred_lines_after_the_event_land_or_are_drafts_that_say_why(
    page: Client, owner: Person
) -> None:
    build = BuildFactory(slug="buggy")
    arm = ComponentFactory(build=build, code="T25")
    scrapped = ComponentFactory(build=build, code="T26", state="retired", is_on=False)
    given_up = TaskFactory(code="W9", build=build, state="given-up")
    taken = []
    then, here = timezone.now() - timedelta(hours=3), timezone.now()
    late = {"at": then.isoformat(), "sent_at": here.isoformat()}
    for number in range(50):
        for path, told in (
            ("/log/note/", {"text": f"Note {number}", "about": scrapped.code}),
            (f"/components/{arm.code}/broke/", {"text": f"Bent {number}"}),
            (f"/components/{scrapped.code}/on/", {}),
            (f"/tasks/{given_up.code}/start/", {}),
        ):
            key = f"{number}{path.replace('/', '.')}"
            taken.append((key, sent(page, path, key, **late, **told)))
    for key, answer in taken:
        assert answer.headers["X-Kept"] == key
        assert answer.status_code < 500
    assert LogEntry.objects.filter(kind="note").count() == 50
    assert LogEntry.objects.filter(kind="broke").count() == 50
    said = set(Draft.objects.filter(person=owner).values_list("message", flat=True))
    assert any("T26" in message and "retired" in message for message in said), said
    assert any("W9" in message and "given up" in message for message in said), said


def test_row_64_an_outbox_from_an_old_copy_of_the_phone_doubles_nothing(
    page: Client,
) -> None:
    kept = [(f"old-{number}", f"Line {number}") for number in range(20)]
    for _ in range(2):
        for key, text in kept:
            sent(page, "/log/note/", key, text=text)
    assert LogEntry.objects.filter(kind="note").count() == 20
