"""What was waived on a build: printed on every sheet that follows."""

from __future__ import annotations

from fabshop import words
from fabshop.paper.sheet import said
from fabshop.records.joint import Joint, JointMove
from fabshop.records.task import HoldSigning, Task


def waived_holds(build: int, offset_minutes: int) -> list[str]:
    """The holds of a build that stand waived, with the reason, who and when."""
    rows = (
        HoldSigning.objects.filter(task__build=build, is_taken_back=False)
        .select_related("task", "person")
        .order_by("task__code", "pk")
    )
    latest: dict[Task, HoldSigning] = {row.task: row for row in rows}
    return [
        f"{task}: {row.reason} ({row.person.name}, {said(row.at, offset_minutes)})"
        for task, row in latest.items()
        if row.verdict == words.HoldVerdict.WAIVED
    ]


def waived_of_joints(joints: list[Joint]) -> list[str]:
    """What was let go of these joints: heats, materials, stale cleaning, colours."""
    told = []
    for joint in joints:
        if joint.heat_waived_why:
            told.append(f"{joint.code} heat lot UNKNOWN: {joint.heat_waived_why}")
        if joint.dissimilar_why:
            told.append(f"{joint.code} dissimilar, on purpose: {joint.dissimilar_why}")
    moves = JointMove.objects.filter(
        joint__in=joints,
        is_taken_back=False,
        state__in=[
            words.JointState.TACKED,
            words.JointState.WELDED,
            words.JointState.ACCEPTED,
        ],
    )
    for move in moves.exclude(reason="").select_related("joint", "person"):
        label = words.JointState(move.state).label
        told.append(f"{move.joint.code} {label}: {move.reason} ({move.person.name})")
    return told
