"""Photos: kept once by their content, and put on a log entry, a receipt or a step."""

from __future__ import annotations

import os
from datetime import datetime
from hashlib import sha256
from pathlib import Path
from tempfile import NamedTemporaryFile

from django.conf import settings
from django.db import IntegrityError, transaction

from fabshop.actions import wall
from fabshop.actions.log.entry import new_client_id
from fabshop.actions.picture import (
    Broken,
    Picture,
    Voice,
    read_picture,
    without_notes,
)
from fabshop.actions.shop import require
from fabshop.errors import BadInput
from fabshop.records.log import LogEntry, Photo, PhotoUse
from fabshop.records.order import Receipt
from fabshop.records.plan import PlanStep
from fabshop.records.shop import Person

BROKEN = "This file is broken and cannot be shown; it is kept as it came."


def keep_photo(
    *,
    by: Person,
    content: bytes,
    now: datetime,
    entry: LogEntry | None = None,
    receipt: Receipt | None = None,
    step: PlanStep | None = None,
    at: datetime | None = None,
    client_id: str | None = None,
) -> PhotoUse:
    """Keep a photo and put it where it belongs; the same one there is kept once.

    A torn file is kept too, with no width and no height: `said_of` says so. So is what
    somebody said for want of a free hand.
    """
    require(by, "write")
    if sum(one is not None for one in (entry, receipt, step)) != 1:
        raise BadInput(
            "A photo belongs to one log entry, one receipt or one step.", field="photo"
        )
    if not content:
        raise BadInput("The photo is empty: nothing arrived of it.", field="photo")
    if first := _used_before(client_id):
        return first
    # Opened and written outside the transaction: a big picture takes its time.
    photo = Photo.objects.filter(digest=sha256(content).hexdigest()).first()
    if photo is None:
        photo = _kept(content, now)
    same = PhotoUse.objects.filter(
        photo=photo, entry=entry, receipt=receipt, step=step
    ).first()
    if same is not None:
        return same
    try:
        with transaction.atomic():
            return PhotoUse.objects.create(
                photo=photo,
                entry=entry,
                receipt=receipt,
                step=step,
                person=by,
                at=at or now,
                client_id=client_id or new_client_id(),
            )
    except IntegrityError:
        if first := _used_before(client_id):
            return first
        raise


def middle_of(file: str) -> str:
    """Where the size for a phone's page lies, beside the large one."""
    return f"{file.removesuffix('.jpg')}-middle.jpg"


def said_of(use: PhotoUse) -> str:
    """What there is to say of a kept photo; "" where it is whole."""
    return "" if use.photo.width or use.photo.is_voice else BROKEN


def _used_before(client_id: str | None) -> PhotoUse | None:
    if not client_id:
        return None
    return PhotoUse.objects.filter(client_id=client_id).select_related("photo").first()


def _kept(content: bytes, now: datetime) -> Photo:
    digest = sha256(content).hexdigest()
    folder = f"photos/{digest[:2]}"
    picture: Picture | None = None
    ending = "bin"
    try:
        picture = read_picture(content)
    except Voice as voice:
        ending = voice.ending
    except Broken:
        pass
    if picture is None:
        file, thumb = f"{folder}/{digest}.{ending}", ""
        _write(file, without_notes(content))
    else:
        file, thumb = f"{folder}/{digest}.jpg", f"{folder}/{digest}-thumb.jpg"
        _write(file, picture.jpeg)
        _write(middle_of(file), picture.middle)
        _write(thumb, picture.thumb)
    taken = picture.taken if picture else None
    if taken is not None and taken.tzinfo is None:
        taken = taken.replace(tzinfo=wall.zone())
    try:
        with transaction.atomic():
            return Photo.objects.create(
                digest=digest,
                file=file,
                thumb=thumb,
                width=picture.width if picture else 0,
                height=picture.height if picture else 0,
                taken_at=taken,
                made_at=now,
            )
    except IntegrityError:
        return Photo.objects.get(digest=digest)


def _write(name: str, content: bytes) -> None:
    """Write a file whole or not at all; named by content, it may stand already."""
    path = Path(settings.MEDIA_ROOT) / name
    path.parent.mkdir(parents=True, exist_ok=True)
    with NamedTemporaryFile(dir=path.parent, delete=False) as temporary:
        temporary.write(content)
    # Readable for whoever serves and backs up, as other files of the shop are.
    os.chmod(temporary.name, 0o644)
    os.replace(temporary.name, path)
