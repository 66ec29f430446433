"""Accepting makes an edition, its steps, and an old edition of the one before."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop.actions.plan import accept_plan, ask_teardown
from fabshop.actions.plan.accept import edition_letter
from fabshop.errors import Clash, NotAllowed
from fabshop.records.build import Build
from fabshop.records.plan import Plan
from fabshop.records.shop import Person


def test_the_first_is_a_and_has_its_steps(accepted: Plan) -> None:
    assert (accepted.edition, accepted.state) == ("A", "accepted")
    first = accepted.steps.first()
    assert first is not None
    assert (first.number, first.does, str(first.component)[:3]) == (1, "remove", "R01")
    told = accepted.answer["sessions"][0]["steps"][0]["start"]
    local = first.starts_at.timestamp() + accepted.utc_offset_minutes * 60
    assert datetime.fromisoformat(told + "+00:00").timestamp() == local


def test_the_next_is_b_and_the_first_is_superseded(
    accepted: Plan, wren: Build, owner: Person, now: datetime
) -> None:
    second = ask_teardown(by=owner, build=wren, now=now)
    assert accept_plan(by=owner, plan=second, now=now).edition == "B"
    accepted.refresh_from_db()
    assert accepted.state == "superseded"
    with pytest.raises(Clash, match="Edition A was superseded"):
        accept_plan(by=owner, plan=accepted, now=now)


def test_accepting_twice_is_accepting_once(
    accepted: Plan, owner: Person, now: datetime
) -> None:
    assert accept_plan(by=owner, plan=accepted, now=now).edition == "A"
    assert Plan.objects.exclude(edition="").count() == 1


def test_a_helper_accepts_nothing(wren: Build, helper: Person, now: datetime) -> None:
    asked = ask_teardown(by=helper, build=wren, now=now)
    with pytest.raises(NotAllowed):
        accept_plan(by=helper, plan=asked, now=now)


@pytest.mark.parametrize(
    ("number", "letter"), [(0, "A"), (25, "Z"), (26, "AA"), (51, "AZ"), (52, "BA")]
)
def test_editions_are_lettered(number: int, letter: str) -> None:
    assert edition_letter(number) == letter
