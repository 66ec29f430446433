from datetime import datetime, timedelta
from unittest.mock import patch

import pytest

from fabshop import words
from fabshop.actions.log import entry as log_entry
from fabshop.actions.log import (
    itself,
    once,
    start_work,
    stop_work,
    write_entry,
)
from fabshop.errors import BadInput, Clash
from fabshop.records.build import Build
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.records.task import Task
from tests.factories import TaskFactory


@once(words.EntryKind.NOTE, first=itself)
def jot(
    *, by: Person, now: datetime, text: str, client_id: str | None = None
) -> LogEntry:
    Build.objects.create(slug=text, letter=text[:4], name=text, made_at=now)
    return write_entry(
        kind=words.EntryKind.NOTE, by=by, now=now, text=text, client_id=client_id
    )


def test_an_entry_keeps_both_clocks_and_the_build_of_its_task(
    owner: Person, now: datetime
) -> None:
    build = Build.objects.create(slug="t", letter="T", name="T", made_at=now)
    task = Task.objects.create(code="W1", title="Weld", build=build)
    phone = now - timedelta(days=3)
    entry = write_entry(
        kind=words.EntryKind.NOTE, by=owner, now=now, at=phone, task=task, text="x"
    )
    assert (entry.at, entry.server_at) == (phone, now)
    assert entry.build == build
    assert entry.text == "x"
    assert entry.notice == ""


def test_row_54_a_too_long_text_is_kept_in_part_and_the_entry_says_so(
    owner: Person, now: datetime
) -> None:
    entry = write_entry(
        kind=words.EntryKind.NOTE, by=owner, now=now, text="\x00" + "a" * 20_001
    )
    entry.refresh_from_db()
    assert len(entry.text) == 20_000
    assert entry.notice.startswith("1 NUL byte left out. The first 20000 of 20001")


def test_the_same_client_id_is_answered_with_the_first_result(
    owner: Person, now: datetime
) -> None:
    first = jot(by=owner, now=now, text="one", client_id="c1")
    again = jot(by=owner, now=now, text="two", client_id="c1")
    assert again == first
    assert again.text == "one"
    assert list(Build.objects.values_list("slug", flat=True)) == ["one"]


def test_two_requests_that_race_with_one_client_id_write_once(
    owner: Person, now: datetime
) -> None:
    first = jot(by=owner, now=now, text="one", client_id="c1")
    seen = log_entry.said_before
    answers = iter([None])
    with patch.object(log_entry, "said_before", lambda key: next(answers, seen(key))):
        again = jot(by=owner, now=now, text="two", client_id="c1")
    assert again == first
    assert list(Build.objects.values_list("slug", flat=True)) == ["one"]


def test_a_request_refused_for_what_its_twin_did_is_given_the_twins_answer(
    owner: Person, now: datetime
) -> None:
    task = TaskFactory()
    start_work(by=owner, task=task, now=now)
    first = stop_work(by=owner, now=now, client_id="c1")
    answers = iter([None])
    seen = log_entry.said_before
    with patch.object(log_entry, "said_before", lambda key: next(answers, seen(key))):
        # By now nothing is running, so on its own this stop would be refused.
        assert stop_work(by=owner, now=now, client_id="c1") == first


def test_a_client_id_of_another_line_is_refused(
    owner: Person, helper: Person, now: datetime
) -> None:
    write_entry(kind=words.EntryKind.START, by=owner, now=now, client_id="c1")
    jot(by=owner, now=now, text="one", client_id="c2")
    with pytest.raises(Clash, match="already used for “start” by Olive"):
        jot(by=owner, now=now, text="two", client_id="c1")
    with pytest.raises(Clash, match="already used for “note” by Olive"):
        jot(by=helper, now=now, text="two", client_id="c2")


def test_a_client_id_that_does_not_fit_is_refused(owner: Person, now: datetime) -> None:
    with pytest.raises(BadInput, match="client_id: 1 to 64 letters"):
        jot(by=owner, now=now, text="one", client_id="c" * 65)
