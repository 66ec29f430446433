"""A frame is begun by the owner, on a live build, under a code of its own."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop.actions.frame import add_frame, change_frame
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from tests.factories import BuildFactory, FrameFactory

pytestmark = pytest.mark.django_db


def test_a_frame_is_begun_and_told(owner: Person, now: datetime) -> None:
    build = BuildFactory()
    frame = add_frame(by=owner, build=build, code="cradle", name=" Cradle ", now=now)
    assert (frame.name, frame.mirror) == ("Cradle", "y")
    assert LogEntry.objects.get().text == "New frame: cradle Cradle."
    with pytest.raises(Clash, match="There is a frame Cradle already"):
        add_frame(by=owner, build=build, code="Cradle", name="x", now=now)


def test_only_the_owner_draws_and_not_on_a_closed_build(
    owner: Person, helper: Person, now: datetime
) -> None:
    build = BuildFactory()
    with pytest.raises(NotAllowed):
        add_frame(by=helper, build=build, code="a", name="A", now=now)
    closed = BuildFactory(state="closed")
    with pytest.raises(Clash, match="is closed"):
        add_frame(by=owner, build=closed, code="a", name="A", now=now)


def test_a_frame_is_renamed_and_mirrored_across_another_axis(
    owner: Person, now: datetime
) -> None:
    frame = FrameFactory()
    change_frame(by=owner, frame=frame, name="Hull", mirror="x", now=now)
    frame.refresh_from_db()
    assert (frame.name, frame.mirror) == ("Hull", "x")
    with pytest.raises(BadInput, match="“up” is none of x, y and z"):
        change_frame(by=owner, frame=frame, name="Hull", mirror="up", now=now)
    with pytest.raises(BadInput, match="Name: nothing is written"):
        change_frame(by=owner, frame=frame, name=" ", now=now)
