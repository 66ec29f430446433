"""The thirty tube joints of the demo shop, told to the actions."""

from __future__ import annotations

from datetime import datetime

from fabshop.actions.joint import add_joint, link_twin_joints, set_joint_covers
from fabshop.console.demo.anchor import Anchor, table
from fabshop.records.build import Build
from fabshop.records.joint import Joint
from fabshop.records.shop import Person
from fabshop.records.task import Task


def tell_joints(*, by: Person, at: datetime, anchor: Anchor) -> None:
    """Tell the joints as they stand: what is welded was before this record began."""
    told = table("joint")
    builds = Build.objects.in_bulk(field_name="slug")
    tasks = Task.objects.in_bulk(field_name="code")
    joints: dict[str, Joint] = {}
    for row in told["joints"]:
        fields = dict(row)
        over = [(kind, tasks[code]) for kind, code in fields.pop("covers")]
        known = fields.pop("known_at", "")
        for name in ("task", "coped_in"):
            if name in fields:
                fields[name] = tasks[fields[name]]
        joint = add_joint(
            by=by,
            now=at,
            at=anchor.moment(known) if known else at,
            build=builds[fields.pop("build")],
            taken_over=told["taken_over"] if "state" in fields else "",
            **fields,
        )
        set_joint_covers(by=by, joint=joint, tasks=over, now=at)
        joints[joint.code] = joint
    for left, right in told["twins"]:
        link_twin_joints(by=by, joint=joints[left], twin=joints[right], now=at)
