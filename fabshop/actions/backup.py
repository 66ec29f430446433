"""The whole shop in one file: records and photos, and back into an empty shop."""

from __future__ import annotations

import hashlib
import io
import json
import tarfile
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path, PurePosixPath
from typing import IO, Any

from django.apps import apps
from django.conf import settings
from django.core import serializers
from django.core.management.color import no_style
from django.db import connection, models, transaction
from rest_framework.authtoken.models import Token

from fabshop.errors import BadInput, Clash
from fabshop.records.shop import Person, Shop, SignInLink

FORMAT = 1
_LIST, _RECORDS, _PHOTOS = "about.json", "records.jsonl", "photos"


def write_backup(*, to: Path, now: datetime) -> dict[str, int]:
    """Write records and photos to one file, as they are at one moment.

    The server may go on: the records are read in one transaction, and a photo never
    changes once it is kept. Returns how many records and photos are in it. Links that
    sign somebody in, and who is signed in at the moment, are not part of it.
    """
    beside = to.with_name(to.name + ".part")
    try:
        with tarfile.open(beside, "w:gz") as archive:
            counts = _fill(archive, now)
        beside.replace(to)
    finally:
        beside.unlink(missing_ok=True)
    return counts


def read_backup(*, file: Path) -> dict[str, int]:
    """Put a backup back: all of it, into a shop that holds nothing, or none of it."""
    if Shop.objects.exists() or Person.objects.exists():
        raise Clash(
            "This shop holds something already. A backup goes into an empty one: "
            "choose another folder with FABSHOP_DATA."
        )
    try:
        with tarfile.open(file, "r:gz") as archive:
            return _put_back(archive)
    except (tarfile.TarError, EOFError, OSError, KeyError, ValueError) as fault:
        raise BadInput(
            f"{file} is not a whole backup of a shop ({fault}).", field="file"
        ) from fault


def _fill(archive: tarfile.TarFile, now: datetime) -> dict[str, int]:
    is_outermost = not connection.in_atomic_block
    with transaction.atomic():
        if is_outermost and connection.vendor == "postgresql":
            # All tables as they are at one moment, whoever writes meanwhile.
            with connection.cursor() as cursor:
                cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ")
        told = io.StringIO()
        serializers.serialize("jsonl", _rows(), stream=told)
    records = told.getvalue().encode()
    photos = sorted(_photo_folder().rglob("*")) if _photo_folder().exists() else []
    files = [path for path in photos if path.is_file()]
    counts = {"records": records.count(b"\n"), "photos": len(files)}
    about = {
        "format": FORMAT,
        "made_at": now.isoformat(),
        "sha256": hashlib.sha256(records).hexdigest(),
        **counts,
    }
    _add(archive, _LIST, json.dumps(about).encode(), now)
    _add(archive, _RECORDS, records, now)
    for path in files:
        name = PurePosixPath(_PHOTOS) / path.relative_to(_photo_folder()).as_posix()
        archive.add(path, arcname=str(name), recursive=False)
    return counts


def _put_back(archive: tarfile.TarFile) -> dict[str, int]:
    about = json.loads(_read(archive, _LIST))
    if about.get("format") != FORMAT:
        raise ValueError("it was written by another release")
    records = _read(archive, _RECORDS)
    if hashlib.sha256(records).hexdigest() != about["sha256"]:
        raise ValueError("its records do not add up")
    with transaction.atomic():
        for row in serializers.deserialize("jsonl", records.decode()):
            row.save()
        # Both databases look at the references only once all is in.
        connection.check_constraints()
    with connection.cursor() as cursor:
        for line in connection.ops.sequence_reset_sql(no_style(), list(_tables())):
            cursor.execute(line)
    for member in archive.getmembers():
        inner = PurePosixPath(member.name)
        if member.isfile() and inner.parts[0] == _PHOTOS and ".." not in inner.parts:
            path = _photo_folder().joinpath(*inner.parts[1:])
            path.parent.mkdir(parents=True, exist_ok=True)
            with _stream(archive, member) as source:
                path.write_bytes(source.read())
    return {"records": about["records"], "photos": about["photos"]}


def _tables() -> Iterator[type[models.Model]]:
    for model in apps.get_app_config("records").get_models():
        if model is not SignInLink:
            yield model
    yield Token


def _rows() -> Iterator[Any]:
    for model in _tables():
        yield from model._default_manager.order_by("pk").iterator()


def _photo_folder() -> Path:
    return Path(settings.MEDIA_ROOT)


def _add(archive: tarfile.TarFile, name: str, data: bytes, now: datetime) -> None:
    member = tarfile.TarInfo(name)
    member.size, member.mtime = len(data), int(now.timestamp())
    archive.addfile(member, io.BytesIO(data))


def _read(archive: tarfile.TarFile, name: str) -> bytes:
    with _stream(archive, archive.getmember(name)) as source:
        return source.read()


def _stream(archive: tarfile.TarFile, member: tarfile.TarInfo) -> IO[bytes]:
    source = archive.extractfile(member)
    if source is None:
        raise ValueError(f"{member.name} is no file")
    return source
