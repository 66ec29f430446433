"""Keeps the first answer to a write, to be given again to the same key."""

from __future__ import annotations

from datetime import datetime

from django.db import IntegrityError, transaction

from fabshop.records.log import KeptAnswer
from fabshop.records.shop import Person


def kept_answer(*, by: Person, key: str) -> KeptAnswer | None:
    """What was answered to this person under this key, if anything was."""
    return KeptAnswer.objects.filter(person=by, key=key).first()


def keep_answer(
    *,
    by: Person,
    key: str,
    method: str,
    path: str,
    body_hash: str,
    status: int,
    content_type: str,
    body: str,
    now: datetime,
) -> KeptAnswer:
    """Keep an answer; where two came at once, the first kept is the answer of both."""
    try:
        with transaction.atomic():
            return KeptAnswer.objects.create(
                person=by,
                key=key,
                method=method,
                path=path[:300],
                body_hash=body_hash,
                status=status,
                content_type=content_type,
                body=body,
                at=now,
            )
    except IntegrityError:
        return KeptAnswer.objects.get(person=by, key=key)
