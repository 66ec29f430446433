"""Left and right joints: a mirrored cope twists the other way."""

from __future__ import annotations

from datetime import datetime

from django.db import transaction

from fabshop import words
from fabshop.actions.joint.doubt import ask_about_angle
from fabshop.actions.joint.locked import locked_joints, write_joint
from fabshop.actions.moved import Before, move
from fabshop.actions.shop import require
from fabshop.errors import BadInput, Clash, NeedsAnswer
from fabshop.records.joint import Joint
from fabshop.records.shop import Person

HALF_TURN = 180_000


@transaction.atomic
def link_twin_joints(
    *,
    by: Person,
    joint: Joint,
    twin: Joint,
    now: datetime,
    mirror: bool = False,
    confirm: bool = False,
    angles: bool = False,
) -> Joint:
    """Make two joints each other's twin.

    Both twisted the same way is no mirror: that asks, and `mirror` turns the twin's
    twist round, `confirm` leaves it as it is. Two angles ask too, whether one is the
    dial's; `angles` leaves them.
    """
    require(by, "own")
    if joint.pk == twin.pk:
        raise BadInput("A joint cannot be its own twin.", field="twin")
    joint, twin = locked_joints([joint, twin])
    if joint.build_id != twin.build_id:
        raise BadInput(f"{twin} is of another build; twins are of one.", field="twin")
    for one, other in ((joint, twin), (twin, joint)):
        if one.twin_id not in (None, other.pk):
            raise Clash(f"{one.code} is the twin of {one.twin} already.", field="twin")
    if not angles:
        ask_about_angle(joint, twin)
    before: Before = {}
    changes = {}
    if is_same_twist(joint, twin) and not confirm:
        if not mirror:
            raise NeedsAnswer(
                f"{joint.code} and {twin.code} both twist by "
                f"{joint.twist_mdeg / 1000:+g}°: the mirror of a cope twists the other "
                f"way. Make {twin.code} {-joint.twist_mdeg / 1000:+g}°, or leave it?",
                field="mirror",
                code="same-twist",
            )
        changes["twist_mdeg"] = -joint.twist_mdeg
    move(joint, before, twin_id=twin.pk)
    move(twin, before, twin_id=joint.pk, **changes)
    write_joint(
        words.EntryKind.JOINT,
        joint,
        f"twin of {twin.code}" + ", mirrored" * bool(changes),
        by=by,
        now=now,
        before=before,
    )
    return joint


def is_same_twist(joint: Joint, twin: Joint) -> bool:
    """Whether both twist the same way; half a turn is its own mirror."""
    return joint.twist_mdeg == twin.twist_mdeg and joint.twist_mdeg not in (
        0,
        HALF_TURN,
        -HALF_TURN,
    )
