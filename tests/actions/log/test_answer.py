"""The first answer is the answer."""

from __future__ import annotations

from datetime import datetime
from typing import Any

from fabshop.actions.log.answer import keep_answer, kept_answer
from fabshop.records.shop import Person


def keep(by: Person, now: datetime, body: str) -> Any:
    return keep_answer(
        by=by,
        key="k",
        method="POST",
        path="/api/log/",
        body_hash="h",
        status=201,
        content_type="application/json",
        body=body,
        now=now,
    )


def test_a_second_answer_under_the_key_gives_the_first(
    owner: Person, now: datetime
) -> None:
    assert keep(owner, now, "first").body == "first"
    assert keep(owner, now, "second").body == "first"
    assert kept_answer(by=owner, key="k").body == "first"  # type: ignore[union-attr]


def test_another_person_has_keys_of_their_own(
    owner: Person, helper: Person, now: datetime
) -> None:
    keep(owner, now, "first")
    assert kept_answer(by=helper, key="k") is None
