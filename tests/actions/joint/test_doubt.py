"""An angle typed as the dial reads it, held against the twin and the frame."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop.actions.joint import add_joint, change_joint, link_twin_joints
from fabshop.errors import NeedsAnswer
from fabshop.records.joint import Joint
from fabshop.records.shop import Person
from tests.factories import (
    BuildFactory,
    FrameFactory,
    JointFactory,
    NodeFactory,
    TubeEndFactory,
    TubeFactory,
)


def test_row_37_a_dial_reading_is_asked_about_against_the_twin(
    owner: Person, now: datetime
) -> None:
    left = JointFactory(code="J1", angle_mdeg=65_000)
    right = JointFactory(code="J2", angle_mdeg=25_000, build=left.build)
    said = {"by": owner, "now": now}
    with pytest.raises(NeedsAnswer, match="Angle between, or dial") as asked:
        link_twin_joints(joint=right, twin=left, **said)
    assert asked.value.code == "angle-or-dial"
    assert asked.value.message == (
        "J2: 25° was typed, its twin J1 says 65.0°, and 25 is what the dial reads for "
        "65. Angle between, or dial?"
    )
    link_twin_joints(joint=right, twin=left, angles=True, **said)
    right.refresh_from_db()
    assert right.twin == left

    change_joint(joint=right, angle_mdeg=65_000, **said)
    with pytest.raises(NeedsAnswer, match="its twin J1 says 65"):
        change_joint(joint=right, angle_mdeg=25_000, **said)
    assert Joint.objects.get(code="J2").angle_mdeg == 65_000
    change_joint(joint=right, angle_mdeg=25_000, confirm=True, **said)
    assert Joint.objects.get(code="J2").angle_mdeg == 25_000
    # What else is changed is not asked about again; the supplement is the same angle.
    change_joint(joint=right, name="Other foot", **said)
    change_joint(joint=right, angle_mdeg=115_000, **said)


def test_row_37_and_against_the_frame_that_the_joint_is_of(
    owner: Person, now: datetime
) -> None:
    frame = FrameFactory(build=BuildFactory(), code="cradle")
    near, far, foot, up = (
        NodeFactory(frame=frame, code=code, x_um=x, z_um=z)
        for code, x, z in (
            ("A", 0, 0),
            ("B", 200_000, 0),
            ("C", 100_000, 0),
            ("D", 146_631, 100_000),
        )
    )
    rail = TubeFactory(frame=frame, mark="rail", start=near, end=far)
    brace = TubeFactory(frame=frame, mark="brace", start=foot, end=up)
    TubeEndFactory(tube=brace, which=1, kind="coped", onto=rail, joint="J7")
    joint = {
        "by": owner,
        "now": now,
        "build": frame.build,
        "code": "J7",
        "name": "Foot",
        "material": "4130",
        "cut_od_um": 8000,
        "cut_wall_um": 900,
        "onto_od_um": 8000,
    }
    with pytest.raises(NeedsAnswer, match="the frame cradle says 65.0°"):
        add_joint(angle_mdeg=25_000, **joint)
    assert not Joint.objects.exists()
    add_joint(angle_mdeg=65_000, **joint)
