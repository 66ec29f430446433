"""Row 66: a copied build has the joints of the other as planned, none of their past."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop.actions.build import copy_build
from fabshop.errors import Clash
from fabshop.records.build import Build
from fabshop.records.joint import Joint, JointCover
from fabshop.records.shop import Person
from fabshop.records.task import Task
from tests.factories import ComponentFactory, JointFactory


def test_row_66_joints_are_copied_as_planned_without_lots_or_findings(
    odile: Person, now: datetime
) -> None:
    build = Build.objects.get(slug="tuppence")
    copied = copy_build(
        by=odile, build=build, slug="ha-penny", letter="H", name="Ha'penny", now=now
    )
    assert copied.joints.count() == 16
    assert set(
        copied.joints.values_list(
            *("state", "reworks", "found", "inspect_why", "cut_mark"),
            *("cut_heat_lot", "onto_heat_lot", "filler_lot", "heat_waived_why"),
        )
    ) == {("planned", 0, "", "", "", "", "", "", "")}
    foot = copied.joints.get(code="H-J04")
    assert (foot.name, foot.angle_mdeg, foot.twist_mdeg) == (
        "A-post R head",
        48_000,
        -14_000,
    )
    assert foot.twin is not None
    assert (foot.twin.code, foot.twin.twin) == ("H-J03", foot)
    rework = copied.joints.get(code="H-J07")
    assert rework.task == Task.objects.get(code="H-W34")
    assert [row.task.code for row in rework.covers.all() if row.task] == ["H-W36"]
    for kept in ("runs", "calls", "moves"):
        assert not copied.joints.exclude(**{kept: None}).exists()
    # The other build's joints are as they were.
    assert Joint.objects.get(code="J07").covers.count() == 1


def test_row_66_what_lies_over_a_joint_lies_over_its_copy(
    owner: Person, now: datetime
) -> None:
    joint = JointFactory(code="X1")
    lid = ComponentFactory(build=joint.build, code="X9")
    JointCover.objects.create(joint=joint, component=lid, kind="covers")
    said = {"by": owner, "build": joint.build, "name": "K", "now": now}
    fresh = copy_build(slug="k", letter="K", **said)
    (cover,) = fresh.joints.get().covers.all()
    assert cover.component is not None
    assert cover.component.build == fresh
    JointFactory(code="M-X1")
    with pytest.raises(Clash, match="There is a joint M-X1 already"):
        copy_build(slug="m", letter="M", **said)
