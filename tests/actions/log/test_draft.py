from datetime import datetime

import pytest

from fabshop.actions.log.draft import (
    keep_answer,
    keep_draft,
    kept_answer,
    settle_draft,
)
from fabshop.errors import BadInput, NotAllowed
from fabshop.records.log import Draft, KeptAnswer
from fabshop.records.shop import Person


def keep(by: Person, now: datetime, **payload: object) -> Draft:
    error = BadInput("A part cannot lie under itself.", field="covers")
    return keep_draft(
        by=by, path="/components/T10/", payload=payload, error=error, now=now
    )


def test_what_was_refused_is_kept_with_its_reason(owner: Person, now: datetime) -> None:
    draft = keep(
        owner,
        now,
        name="a\x00b\ud83d",
        covers=["T10", 2, None],
        password="secret",
        password_again="secret",
        password_now="older secret",
        csrfmiddlewaretoken="x",
        on=now.date(),
    )
    draft.refresh_from_db()
    assert draft.payload == {
        "name": "ab",
        "covers": ["T10", 2, None],
        "on": "2027-09-03",
    }
    assert (draft.message, draft.field) == ("A part cannot lie under itself.", "covers")


def test_the_same_refused_twice_is_one_draft(owner: Person, now: datetime) -> None:
    assert keep(owner, now, name="a") == keep(owner, now, name="a")
    assert keep(owner, now, name="b") != keep(owner, now, name="a")


def test_a_draft_is_settled_by_its_writer_or_the_owner(
    owner: Person, helper: Person, viewer: Person, now: datetime
) -> None:
    draft = keep(helper, now, name="a")
    with pytest.raises(NotAllowed, match="somebody else's"):
        settle_draft(by=viewer, draft=draft, now=now)
    assert settle_draft(by=owner, draft=draft, now=now).settled_at == now
    assert Draft.objects.count() == 1


def test_the_first_answer_under_a_key_holds(
    owner: Person, helper: Person, now: datetime
) -> None:
    def answer(by: Person, body: str) -> KeptAnswer:
        return keep_answer(
            by=by,
            key="k",
            method="POST",
            path="/api/notes/",
            body_hash="0" * 64,
            status=201,
            content_type="application/json",
            body=body,
            now=now,
        )

    assert kept_answer(by=owner, key="k") is None
    first = answer(owner, "1")
    assert answer(owner, "2") == first
    assert answer(helper, "3") != first
    assert kept_answer(by=owner, key="k") == first
