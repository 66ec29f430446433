"""What may never be true of the log."""

from __future__ import annotations

import pytest

from tests.factories import (
    KeptAnswerFactory,
    LogEntryFactory,
    PersonFactory,
    PhotoFactory,
    PhotoUseFactory,
    ReceiptFactory,
    TimerFactory,
)
from tests.records.refused import refused

pytestmark = pytest.mark.django_db


def test_a_line_is_of_a_kind() -> None:
    with refused("entry_kind_known"):
        LogEntryFactory(kind="gossip")


def test_an_undo_names_what_it_reverses() -> None:
    with refused("entry_undo_names_what_it_reverses"):
        LogEntryFactory(kind="undo")


def test_a_line_is_reversed_once() -> None:
    line = LogEntryFactory()
    LogEntryFactory(kind="undo", reverses=line)
    with refused():
        LogEntryFactory(kind="undo", reverses=line)


def test_a_phones_id_is_used_once() -> None:
    LogEntryFactory(client_id="a")
    with refused():
        LogEntryFactory(client_id="a")


def test_one_person_has_one_running_timer() -> None:
    timer = TimerFactory()
    with refused():
        TimerFactory(person=timer.person)


def test_a_photo_belongs_to_just_one_thing() -> None:
    photo = PhotoFactory()
    with refused("photo_belongs_to_one_thing"):
        PhotoUseFactory(photo=photo, entry=LogEntryFactory(), receipt=ReceiptFactory())
    with refused("photo_belongs_to_one_thing"):
        PhotoUseFactory(photo=photo, entry=None, person=PersonFactory())


def test_a_photo_is_kept_once_by_its_content() -> None:
    PhotoFactory(digest="d")
    with refused():
        PhotoFactory(digest="d")


def test_a_key_is_answered_once_a_person() -> None:
    kept = KeptAnswerFactory(key="k")
    with refused():
        KeptAnswerFactory(key="k", person=kept.person)
