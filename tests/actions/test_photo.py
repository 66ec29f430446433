from datetime import datetime
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest
from PIL import Image

from fabshop.actions.photo import BROKEN, keep_photo, said_of
from fabshop.errors import BadInput, NotAllowed, TooLarge
from fabshop.records.log import LogEntry, Photo, PhotoUse
from fabshop.records.shop import Person
from tests.factories import LogEntryFactory, PlanStepFactory, ReceiptFactory


@pytest.fixture(autouse=True)
def folder(settings: Any, tmp_path: Path) -> Path:
    settings.MEDIA_ROOT = tmp_path
    return tmp_path


@pytest.fixture
def entry(owner: Person) -> LogEntry:
    return LogEntryFactory(person=owner)


def a_photo(colour: str = "red") -> bytes:
    out = BytesIO()
    Image.effect_noise((400, 300), 90).convert("RGB").save(out, "JPEG")
    if colour != "red":
        out = BytesIO()
        Image.new("RGB", (40, 30), colour).save(out, "JPEG")
    return out.getvalue()


def test_a_photo_is_kept_by_its_content_in_three_sizes(
    helper: Person, entry: LogEntry, folder: Path, now: datetime
) -> None:
    use = keep_photo(by=helper, content=a_photo(), now=now, entry=entry)
    photo = use.photo
    assert (photo.width, photo.height) == (400, 300)
    assert Image.open(folder / photo.file).size == (400, 300)
    assert Image.open(folder / photo.thumb).size == (320, 240)
    assert photo.file == f"photos/{photo.digest[:2]}/{photo.digest}.jpg"
    assert said_of(use) == ""
    assert sorted(p.suffix for p in folder.rglob("*") if p.is_file()) == [
        ".jpg",
        ".jpg",
        ".jpg",
    ]


def test_the_same_photo_is_stored_once_and_used_where_it_belongs(
    owner: Person, entry: LogEntry, now: datetime
) -> None:
    content = a_photo("blue")
    first = keep_photo(by=owner, content=content, now=now, entry=entry)
    assert keep_photo(by=owner, content=content, now=now, entry=entry) == first
    keep_photo(by=owner, content=content, now=now, receipt=ReceiptFactory())
    keep_photo(by=owner, content=content, now=now, step=PlanStepFactory())
    assert Photo.objects.count() == 1
    assert PhotoUse.objects.count() == 3


def test_the_same_client_id_is_answered_with_the_first(
    owner: Person, entry: LogEntry, now: datetime
) -> None:
    first = keep_photo(
        by=owner, content=a_photo("blue"), now=now, entry=entry, client_id="f"
    )
    again = keep_photo(
        by=owner, content=a_photo("green"), now=now, entry=entry, client_id="f"
    )
    assert again == first
    assert Photo.objects.count() == 1


def test_row_55_a_torn_photo_is_kept_as_a_broken_file(
    owner: Person, entry: LogEntry, folder: Path, now: datetime
) -> None:
    torn = a_photo()[:5000]
    use = keep_photo(by=owner, content=torn, now=now, entry=entry)
    assert said_of(use) == BROKEN
    assert (use.photo.width, use.photo.thumb) == (0, "")
    assert (folder / use.photo.file).read_bytes()[-100:] == torn[-100:]


def test_row_55_what_is_no_photo_is_refused_and_nothing_is_left(
    owner: Person, entry: LogEntry, folder: Path, now: datetime
) -> None:
    for content, kind in ((b"hello", BadInput), (b"x" * (41 << 20), TooLarge)):
        with pytest.raises(kind):
            keep_photo(by=owner, content=content, now=now, entry=entry)
    with pytest.raises(BadInput, match="nothing arrived of it"):
        keep_photo(by=owner, content=b"", now=now, entry=entry)
    assert not Photo.objects.exists()
    assert not list(folder.iterdir())


def test_a_photo_belongs_to_one_thing(
    owner: Person, entry: LogEntry, now: datetime
) -> None:
    for belongs in ({}, {"entry": entry, "receipt": ReceiptFactory()}):
        with pytest.raises(BadInput, match="belongs to one log entry"):
            keep_photo(by=owner, content=a_photo(), now=now, **belongs)


def test_a_viewer_sends_none(viewer: Person, entry: LogEntry, now: datetime) -> None:
    with pytest.raises(NotAllowed):
        keep_photo(by=viewer, content=a_photo(), now=now, entry=entry)
