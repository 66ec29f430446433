"""Joints as facts: those not accepted, a joint's checklist, and the gas in hand."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from fabshop import words
from fabshop.reckoning.facts import JointFact
from fabshop.records.build import Build
from fabshop.records.joint import Joint, JointCover
from fabshop.records.shelf import Consumable


def open_joints(builds: Iterable[Build]) -> tuple[JointFact, ...]:
    """The joints of these builds that are not accepted and will be closed over.

    Two queries, whatever their number.
    """
    covers = JointCover.objects.select_related("task", "component")
    over: dict[int, list[JointCover]] = {}
    for cover in covers.filter(joint__in=Joint.objects.not_accepted()):
        over.setdefault(cover.joint_id, []).append(cover)
    joints = Joint.objects.filter(build__in=list(builds), pk__in=list(over))
    return tuple(
        JointFact(
            id=joint.code,
            state=words.JointState(joint.state),
            task=joint.task.code if joint.task else "",
            tasks=tuple(row.task.code for row in over[joint.pk] if row.task),
            components=tuple(
                row.component.code for row in over[joint.pk] if row.component
            ),
        )
        for joint in joints.select_related("task")
    )


def gas_left_mbar() -> int | None:
    """The thousandths of a bar of argon on the shelf; None where none is kept there."""
    shelf = Consumable.objects.on_the_shelf().with_left()
    rows = shelf.filter(hazard=words.Hazard.ARGON, unit=words.ShelfUnit.BAR)
    left: list[Any] = list(rows)
    return sum(row.left_milli for row in left) if left else None
