"""What was kept on a phone is answered once for each id, and never half taken."""

from __future__ import annotations

import errno
from typing import Any

import pytest
from django.db import OperationalError
from django.test import Client
from pytest_django import DjangoAssertNumQueries

from fabshop.records.log import Draft, KeptAnswer, LogEntry
from fabshop.records.order import Supplier
from fabshop.records.shop import Person, Shop
from fabshop.records.task import Task
from fabshop.web import log
from tests.factories import TaskFactory

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
