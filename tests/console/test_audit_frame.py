"""Contradictions of frames are named, and a sound frame has none."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from fabshop.console.audit import contradictions
from fabshop.console.audit_frame import FRAME_CHECKS
from fabshop.records.frame import Frame
from tests.factories import (
    BendFactory,
    JointFactory,
    NodeFactory,
    TubeEndFactory,
    TubeFactory,
)
from tests.paper.a_frame import a_frame

pytestmark = pytest.mark.django_db


def across_by_its_node() -> None:
    TubeFactory(mark="F1", end=NodeFactory())


def across_by_its_landing() -> None:
    TubeEndFactory(kind="coped", onto=TubeFactory())


def across_by_its_bend() -> None:
    BendFactory(node=NodeFactory())


def twin_of_one_side() -> None:
    tube = TubeFactory()
    TubeFactory(frame=tube.frame, twin=tube)


def twins_that_do_not_mirror() -> None:
    tube = TubeFactory(mark="a")
    other = TubeFactory(frame=tube.frame, mark="b", twin=tube)
    tube.twin = other
    tube.save()


def an_angle_denied() -> None:
    a_frame()
    end = Frame.objects.get().tubes.get(mark="brace").ends.get(which=1)
    end.typed_mdeg = 59_000
    end.save()


def a_joint_unknown() -> None:
    JointFactory(code="J02")
    TubeEndFactory(joint="J99")


SPOILS = [
    (across_by_its_node, "tube-across-frames"),
    (across_by_its_landing, "tube-across-frames"),
    (across_by_its_bend, "tube-across-frames"),
    (twin_of_one_side, "tube-twin-one-sided"),
    (twins_that_do_not_mirror, "frame-disagrees"),
    (an_angle_denied, "frame-disagrees"),
    (a_joint_unknown, "frame-joint-unknown"),
]


@pytest.mark.parametrize(("spoil", "name"), SPOILS)
def test_a_contradiction_is_named(spoil: Callable[[], None], name: str) -> None:
    spoil()
    if spoil is an_angle_denied:
        JointFactory(code="J02")
    found = [one for one in contradictions() if one.name == name]
    assert len(found) == 1
    assert str(found[0]).endswith((".", "?"))


def test_every_check_finds_something() -> None:
    assert {name for _, name in SPOILS} == set(FRAME_CHECKS)


def test_a_sound_frame_contradicts_nothing() -> None:
    a_frame()
    JointFactory(code="J02")
    names = {one.name for one in contradictions()}
    assert not names & set(FRAME_CHECKS)
