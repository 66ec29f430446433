"""Ten minutes to take a joint's line back, where nothing has moved on since."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from fabshop.actions.joint import (
    accept_joint,
    call_colour,
    move_joint,
    reject_joint,
    tick_step,
)
from fabshop.actions.joint.prep import prep_now
from fabshop.actions.log import undo_entry
from fabshop.errors import Clash
from fabshop.records.joint import ColourCall, Joint, JointMove
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.words import PrepStage
from tests.actions.joint.prepared import accepted, tick_all, welded
from tests.factories import JointFactory


@pytest.fixture
def joint(owner: Person) -> Joint:
    return JointFactory(code="J17")


def undo(by: Person, client_id: str, now: datetime) -> None:
    undo_entry(by=by, entry=LogEntry.objects.get(client_id=client_id), now=now)


def test_a_state_is_put_back_with_its_line(
    owner: Person, joint: Joint, now: datetime
) -> None:
    move_joint(by=owner, joint=joint, state="coped", now=now, client_id="m")
    undo(owner, "m", now)
    joint.refresh_from_db()
    assert joint.state == "planned"
    assert JointMove.objects.get().is_taken_back


def test_a_rejection_undone_puts_the_twin_back_too(
    owner: Person, joint: Joint, now: datetime
) -> None:
    twin = JointFactory(code="J18", twin=joint)
    accepted(owner, joint, now)
    accepted(owner, twin, now)
    reject_joint(by=owner, joint=joint, reason="crack", now=now, client_id="r")
    undo(owner, "r", now)
    joint.refresh_from_db()
    twin.refresh_from_db()
    assert (joint.state, joint.reworks) == ("accepted", 0)
    assert (twin.state, twin.inspect_why) == ("accepted", "")


def test_a_tick_is_taken_back_until_the_joint_went_on_by_it(
    owner: Person, joint: Joint, now: datetime
) -> None:
    tick_step(by=owner, joint=joint, number=1, now=now, client_id="t")
    undo(owner, "t", now)
    assert not prep_now(joint, now).stands[0].is_done
    tick_step(by=owner, joint=joint, number=1, now=now, client_id="u")
    welded(owner, joint, now)
    with pytest.raises(Clash, match="is welded by this step"):
        undo(owner, "u", now)


def test_a_tick_of_an_attempt_that_was_rejected_stays(
    owner: Person, joint: Joint, now: datetime
) -> None:
    tick_step(by=owner, joint=joint, number=1, now=now, client_id="t")
    welded(owner, joint, now)
    reject_joint(by=owner, joint=joint, reason="crack", now=now)
    with pytest.raises(Clash, match="rejected since"):
        undo(owner, "t", now)


def test_a_rejection_is_not_undone_once_the_next_attempt_is_begun(
    owner: Person, joint: Joint, now: datetime
) -> None:
    welded(owner, joint, now)
    reject_joint(by=owner, joint=joint, reason="crack", now=now, client_id="r")
    tick_step(by=owner, joint=joint, number=1, now=now)
    with pytest.raises(Clash, match="has changed since"):
        undo(owner, "r", now)


def test_the_call_that_a_joint_was_accepted_by_is_not_taken_back(
    owner: Person, joint: Joint, now: datetime
) -> None:
    welded(owner, joint, now)
    tick_all(owner, joint, now, until=PrepStage.LOOK)
    call_colour(
        by=owner, joint=joint, colour="gold", verdict="accept", now=now, client_id="c"
    )
    accept_joint(by=owner, joint=joint, now=now, client_id="a")
    with pytest.raises(Clash, match="accepted by this call"):
        undo(owner, "c", now)
    undo(owner, "a", now)
    undo(owner, "c", now)
    assert ColourCall.objects.get().is_taken_back
    with pytest.raises(Clash, match="has not been called"):
        accept_joint(by=owner, joint=joint, now=now)


def test_ten_minutes_and_no_longer(owner: Person, joint: Joint, now: datetime) -> None:
    move_joint(by=owner, joint=joint, state="coped", now=now, client_id="m")
    with pytest.raises(Clash, match="ten minutes are over"):
        undo(owner, "m", now + timedelta(minutes=11))
