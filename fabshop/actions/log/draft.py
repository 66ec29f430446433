"""What was refused is kept as a draft; what was answered is answered the same again."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from django.db import IntegrityError, transaction

from fabshop.actions.typed import kept_text
from fabshop.errors import NotAllowed, ShopError
from fabshop.records.log import Draft, KeptAnswer
from fabshop.records.shop import Person

# Never kept, whoever typed them.
SECRETS = {"csrfmiddlewaretoken", "token"}
SECRETS_BEGIN = "password"


@transaction.atomic
def keep_draft(
    *, by: Person, path: str, payload: Any, error: ShopError, now: datetime
) -> Draft:
    """Keep what was sent and refused, with the reason, under an address of its own.

    To be called when what refused it has been rolled back. The same refused twice in
    a row is one draft.
    """
    clean = _storable(payload)
    path = _storable(path)[:300]
    same = Draft.objects.filter(person=by, path=path, settled_at=None).first()
    if same is not None and same.payload == clean and same.message == error.message:
        return same
    return Draft.objects.create(
        person=by,
        path=path,
        payload=clean,
        message=kept_text(error.message)[0],
        field=error.field[:80],
        at=now,
    )


@transaction.atomic
def settle_draft(*, by: Person, draft: Draft, now: datetime) -> Draft:
    """Say that a draft was sent again and taken, or is not wanted; it stays kept."""
    if draft.person_id != by.pk and not by.is_owner:
        raise NotAllowed("That draft is somebody else's.")
    draft = Draft.objects.select_for_update(no_key=True).get(pk=draft.pk)
    if draft.settled_at is None:
        draft.settled_at = now
        draft.save(update_fields=["settled_at"])
    return draft


def kept_answer(*, by: Person, key: str) -> KeptAnswer | None:
    """The first answer that was given to this person under this key."""
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
    """Keep an answer under its key; where another was kept first, that one holds."""
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


def _storable(value: Any) -> Any:
    """`value` without what a database cannot hold and without secrets."""
    if isinstance(value, str):
        return value.replace("\x00", "").encode("utf-8", "ignore").decode()
    if isinstance(value, dict):
        return {
            _storable(str(key)): _storable(one)
            for key, one in value.items()
            if key not in SECRETS and not str(key).startswith(SECRETS_BEGIN)
        }
    if isinstance(value, list | tuple):
        return [_storable(one) for one in value]
    return value if isinstance(value, int | float | bool | None) else str(value)
