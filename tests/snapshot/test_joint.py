"""Joints that are not accepted, and the gas on the shelf, as facts."""

from __future__ import annotations

import pytest

from fabshop.records.build import Build
from fabshop.snapshot.joint import gas_left_mbar, open_joints
from fabshop.words import JointState
from tests.factories import (
    ComponentFactory,
    JointCoverFactory,
    JointFactory,
    TaskFactory,
)

pytestmark = pytest.mark.django_db


def test_only_what_is_not_accepted_and_will_be_closed_over_is_told(
    django_assert_num_queries: object,
) -> None:
    weld = TaskFactory(code="W43")
    joint = JointFactory(code="J17", task=weld, state="tacked")
    shell = ComponentFactory(code="G02", build=joint.build)
    JointCoverFactory(joint=joint, task=TaskFactory(code="W57"))
    JointCoverFactory(joint=joint, task=None, component=shell)
    JointFactory(code="J18", build=joint.build)
    done = JointFactory(code="J01", build=joint.build, state="accepted")
    JointCoverFactory(joint=done)
    JointCoverFactory(joint=JointFactory(code="J99"))
    (fact,) = open_joints([joint.build])
    assert (fact.id, fact.state, fact.task) == ("J17", JointState.TACKED, "W43")
    assert (fact.tasks, fact.components) == (("W57",), ("G02",))


def test_more_joints_ask_no_more_often(django_assert_num_queries: object) -> None:
    joint = JointFactory()
    JointCoverFactory(joint=joint)
    for count in (1, 6):
        for _ in range(count):
            JointCoverFactory(joint=JointFactory(build=joint.build))
        with django_assert_num_queries(3):  # type: ignore[operator]
            open_joints(Build.objects.filter(pk=joint.build_id))


def test_gas_is_unknown_where_none_is_kept_on_the_shelf() -> None:
    assert gas_left_mbar() is None
