"""The joints of a build, as planned, for the build that is begun as its copy."""

from __future__ import annotations

from collections.abc import Mapping

from fabshop.records.build import Build, Component
from fabshop.records.joint import Joint, JointCover
from fabshop.records.task import Task


def copy_joints(
    build: Build,
    fresh: Build,
    codes: Mapping[str, str],
    components: Mapping[int, Component],
    tasks: Mapping[int, Task],
) -> int:
    """Copy each joint as planned: its geometry and twin, no lot, waiver or finding.

    How many they were. `codes` has the new code by the old one, `components` and
    `tasks` the copies by the keys of those they are copies of.
    """
    old = list(build.joints.all())
    copies = {
        joint.pk: Joint(
            build=fresh,
            code=codes[joint.code],
            name=joint.name,
            metal=joint.metal,
            material=joint.material,
            onto_material=joint.onto_material,
            cut_od_um=joint.cut_od_um,
            cut_wall_um=joint.cut_wall_um,
            onto_od_um=joint.onto_od_um,
            angle_mdeg=joint.angle_mdeg,
            offset_um=joint.offset_um,
            twist_mdeg=joint.twist_mdeg,
            filler=joint.filler,
            gas_mbar=joint.gas_mbar,
            task=tasks.get(joint.task_id or 0),
            coped_in=tasks.get(joint.coped_in_id or 0),
        )
        for joint in old
    }
    Joint.objects.bulk_create(copies.values())
    for joint in old:
        if joint.twin_id in copies:
            copies[joint.pk].twin = copies[joint.twin_id]
    Joint.objects.bulk_update(copies.values(), ["twin"])
    JointCover.objects.bulk_create(
        JointCover(
            joint=copies[row.joint_id],
            task=tasks.get(row.task_id or 0),
            component=components.get(row.component_id or 0),
            kind=row.kind,
        )
        for row in JointCover.objects.filter(joint__in=copies)
        if row.task_id in tasks or row.component_id in components
    )
    return len(copies)
