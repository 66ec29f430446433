"""Joints taken hold of together, of builds that are still worked on."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop.actions.joint import move_joint
from fabshop.actions.joint.locked import locked_joints, refuse_moved
from fabshop.errors import Clash, NotFound
from fabshop.records.joint import Joint
from fabshop.records.shop import Person
from tests.factories import BuildFactory, JointFactory


def test_they_come_in_the_order_asked(owner: Person) -> None:
    first, second = JointFactory(code="J02"), JointFactory(code="J01")
    assert locked_joints([first, second]) == [first, second]
    gone = Joint(pk=9999)
    with pytest.raises(NotFound):
        locked_joints([gone])


def test_a_joint_of_a_closed_build_is_only_read(owner: Person, now: datetime) -> None:
    joint = JointFactory(build=BuildFactory(state="closed"))
    with pytest.raises(Clash, match="is closed"):
        move_joint(by=owner, joint=joint, state="coped", now=now)


def test_what_was_not_read_is_not_compared(owner: Person) -> None:
    joint = JointFactory()
    refuse_moved(joint, None)
    refuse_moved(joint, joint.version)
    with pytest.raises(Clash, match="it is planned by now"):
        refuse_moved(joint, joint.version + 1)
