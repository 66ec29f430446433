"""Left and right: the mirror of a cope twists the other way."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop.actions.joint import link_twin_joints
from fabshop.actions.joint.twin import is_same_twist
from fabshop.errors import BadInput, Clash, NeedsAnswer
from fabshop.records.joint import Joint
from fabshop.records.shop import Person
from tests.factories import BuildFactory, JointFactory


def pair(left: int, right: int) -> tuple[Joint, Joint]:
    build = BuildFactory()
    return (
        JointFactory(code="J21", build=build, twist_mdeg=left),
        JointFactory(code="J22", build=build, twist_mdeg=right),
    )


def test_a_mirrored_pair_is_linked_both_ways(owner: Person, now: datetime) -> None:
    left, right = pair(9000, -9000)
    link_twin_joints(by=owner, joint=left, twin=right, now=now)
    left.refresh_from_db()
    right.refresh_from_db()
    assert (left.twin, right.twin) == (right, left)


def test_row_41_the_same_twist_asks_and_offers_the_mirror(
    owner: Person, now: datetime
) -> None:
    left, right = pair(9000, 9000)
    with pytest.raises(NeedsAnswer, match=r"both twist by \+9°.*Make J22 -9°") as asked:
        link_twin_joints(by=owner, joint=left, twin=right, now=now)
    assert asked.value.code == "same-twist"
    link_twin_joints(by=owner, joint=left, twin=right, mirror=True, now=now)
    right.refresh_from_db()
    assert right.twist_mdeg == -9000


def test_the_same_twist_may_be_left_as_it_is(owner: Person, now: datetime) -> None:
    left, right = pair(9000, 9000)
    link_twin_joints(by=owner, joint=left, twin=right, confirm=True, now=now)
    right.refresh_from_db()
    assert (right.twist_mdeg, right.twin) == (9000, left)


@pytest.mark.parametrize("twist", [0, 180_000, -180_000])
def test_no_twist_and_half_a_turn_are_their_own_mirror(
    owner: Person, twist: int
) -> None:
    assert not is_same_twist(*pair(twist, twist))


def test_who_cannot_be_twins_are_refused(owner: Person, now: datetime) -> None:
    left, right = pair(0, 0)
    with pytest.raises(BadInput, match="its own twin"):
        link_twin_joints(by=owner, joint=left, twin=left, now=now)
    with pytest.raises(BadInput, match="of another build"):
        link_twin_joints(by=owner, joint=left, twin=JointFactory(), now=now)
    link_twin_joints(by=owner, joint=left, twin=right, now=now)
    third = JointFactory(build=left.build)
    with pytest.raises(Clash, match="J21 is the twin of J22"):
        link_twin_joints(by=owner, joint=left, twin=third, now=now)
