"""A joint brought as far as a test needs it, by the shop's own actions."""

from __future__ import annotations

from datetime import datetime, timedelta
from decimal import Decimal

from fabshop import words
from fabshop.actions.joint import (
    accept_joint,
    call_colour,
    move_joint,
    template_of,
    tick_step,
)
from fabshop.records.joint import Joint
from fabshop.records.shop import Person

_STAGES = list(words.PrepStage)


def tick_all(
    by: Person, joint: Joint, now: datetime, *, until: words.PrepStage
) -> None:
    """Tick every step up to a stage; what runs has run by `now`."""
    for step in template_of(joint.metal, now).steps.all():
        if _STAGES.index(words.PrepStage(step.stage)) <= _STAGES.index(until):
            tick_step(
                by=by,
                joint=joint,
                number=step.number,
                value=Decimal("0.2"),
                minutes=4,
                now=now,
                at=now - timedelta(minutes=5),
            )


def welded(by: Person, joint: Joint, now: datetime) -> Joint:
    tick_all(by, joint, now, until=words.PrepStage.WELD)
    return move_joint(by=by, joint=joint, state="welded", now=now)


def accepted(by: Person, joint: Joint, now: datetime) -> Joint:
    welded(by, joint, now)
    tick_all(by, joint, now, until=words.PrepStage.LOOK)
    call_colour(by=by, joint=joint, colour="silver", verdict="accept", now=now)
    return accept_joint(by=by, joint=joint, now=now)
