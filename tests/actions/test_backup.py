"""A backup holds the whole shop, and goes back whole or not at all."""

from __future__ import annotations

import io
import tarfile
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from django.apps import apps
from django.db import connection
from django.db.models import Model

from fabshop.actions.backup import read_backup, write_backup
from fabshop.errors import BadInput, Clash
from fabshop.records.log import LogEntry
from fabshop.records.order import Order
from fabshop.records.shop import Person, Shop
from fabshop.snapshot import digest, take
from tests.factories import ComponentFactory, PersonFactory


def tables() -> list[type[Model]]:
    return list(apps.get_app_config("records").get_models())


def counted() -> dict[str, int]:
    return {model.__name__: model._default_manager.count() for model in tables()}


def emptied() -> None:
    with connection.constraint_checks_disabled():
        for model in reversed(tables()):
            model._default_manager.all()._raw_delete(connection.alias)


@pytest.fixture
def folder(tmp_path: Path, settings: Any) -> Path:
    settings.MEDIA_ROOT = tmp_path / "media"
    (tmp_path / "media" / "photos").mkdir(parents=True)
    return tmp_path


def test_the_demo_shop_comes_back_as_it_was(
    demo: Shop, folder: Path, now: datetime
) -> None:
    (folder / "media" / "photos" / "a.jpg").write_bytes(b"a picture")
    before, fingerprint = counted(), digest(take(now))
    counts = write_backup(to=folder / "shop.tar.gz", now=now)
    assert counts["photos"] == 1
    (folder / "media" / "photos" / "a.jpg").unlink()
    emptied()
    assert Shop.objects.count() == 0
    assert read_backup(file=folder / "shop.tar.gz") == counts
    assert counted() == before
    assert digest(take(now)) == fingerprint
    assert (folder / "media" / "photos" / "a.jpg").read_bytes() == b"a picture"
    assert Order.objects.get(code="P06").supplier.name == "Ostler Electric"
    # New rows get numbers of their own afterwards, on either database.
    ComponentFactory()
    PersonFactory()


def test_it_goes_into_an_empty_shop_only(
    owner: Person, folder: Path, now: datetime
) -> None:
    write_backup(to=folder / "shop.tar.gz", now=now)
    with pytest.raises(Clash, match="holds something already"):
        read_backup(file=folder / "shop.tar.gz")


def test_a_torn_file_is_refused_and_leaves_the_shop_empty(
    demo: Shop, folder: Path, now: datetime
) -> None:
    file = folder / "shop.tar.gz"
    write_backup(to=file, now=now)
    file.write_bytes(file.read_bytes()[:-2000])
    emptied()
    with pytest.raises(BadInput, match="not a whole backup"):
        read_backup(file=file)
    assert LogEntry.objects.count() == 0


def test_records_that_were_changed_in_the_file_are_refused(
    owner: Person, folder: Path, now: datetime
) -> None:
    file = folder / "shop.tar.gz"
    write_backup(to=file, now=now)
    with tarfile.open(file) as archive:
        about = archive.extractfile("about.json").read()  # type: ignore[union-attr]
    with tarfile.open(file, "w:gz") as archive:
        for name, data in (("about.json", about), ("records.jsonl", b"{}\n")):
            member = tarfile.TarInfo(name)
            member.size = len(data)
            archive.addfile(member, io.BytesIO(data))
    emptied()
    with pytest.raises(BadInput, match="do not add up"):
        read_backup(file=file)


@pytest.mark.django_db
def test_something_else_is_refused_as_no_backup(folder: Path) -> None:
    (folder / "notes.txt").write_text("not a backup")
    with pytest.raises(BadInput, match="not a whole backup"):
        read_backup(file=folder / "notes.txt")


def test_a_name_that_leads_out_of_the_folder_is_left_alone(
    owner: Person, folder: Path, now: datetime
) -> None:
    file = folder / "shop.tar.gz"
    write_backup(to=file, now=now)
    with tarfile.open(file) as archive:
        kept = [(m, archive.extractfile(m).read()) for m in archive]  # type: ignore[union-attr]
    with tarfile.open(file, "w:gz") as archive:
        for member, data in kept:
            archive.addfile(member, io.BytesIO(data))
        evil = tarfile.TarInfo("photos/../../evil.txt")
        evil.size = 4
        archive.addfile(evil, io.BytesIO(b"evil"))
    emptied()
    read_backup(file=file)
    assert not (folder / "evil.txt").exists()
