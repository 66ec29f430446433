"""Joints while they are acted on: held in one order, and their log line found again."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from fabshop import words
from fabshop.actions.build.change import refuse_closed
from fabshop.actions.log.entry import new_client_id, write_entry
from fabshop.actions.moved import Before, move
from fabshop.errors import Clash, NotFound
from fabshop.records.joint import Joint, JointMove
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person


def joint_of(entry: LogEntry) -> Joint:
    """The first answer of actions that answer with their joint."""
    return Joint.objects.get(pk=entry.before["joint"])


def locked_joint(joint: Joint) -> Joint:
    return locked_joints([joint])[0]


def locked_joints(joints: Sequence[Joint]) -> list[Joint]:
    """These joints as they are now, in the order given, taken hold of by code."""
    wanted = [joint.pk for joint in joints]
    rows = Joint.objects.select_for_update(of=("self",)).select_related("build")
    fresh = {row.pk: row for row in rows.filter(pk__in=wanted).order_by("code")}
    for row in fresh.values():
        refuse_closed(row.build)
    if missing := set(wanted) - set(fresh):
        raise NotFound(f"Joint {missing.pop()} is not here any more.")
    return [fresh[pk] for pk in wanted]


def refuse_moved(joint: Joint, seen_version: int | None) -> None:
    """Refuse where somebody else moved the joint since it was read."""
    if seen_version is not None and seen_version != joint.version:
        state = words.JointState(joint.state).label
        raise Clash(
            f"{joint} has changed since you read it: it is {state} by now. "
            "Look at it again; what you typed is kept.",
            code="has-moved",
        )


def move_state(
    joint: Joint,
    before: Before,
    state: words.JointState,
    *,
    by: Person,
    at: datetime,
    reason: str = "",
    **changes: object,
) -> None:
    """Move a joint and write the line of its own log, both undone together."""
    was = joint.state
    move(joint, before, state=state, **changes)
    row = JointMove.objects.create(
        joint=joint,
        was=was,
        state=state,
        reason=reason,
        person=by,
        at=at,
        client_id=new_client_id(),
    )
    before.setdefault("joint_moves", []).append(row.pk)


def write_joint(
    kind: words.EntryKind,
    joint: Joint,
    text: str,
    *,
    by: Person,
    now: datetime,
    before: Before,
    at: datetime | None = None,
    client_id: str | None = None,
) -> LogEntry:
    """The line of the shop log that an action on a joint leaves."""
    return write_entry(
        kind=kind,
        by=by,
        now=now,
        at=at,
        client_id=client_id,
        build=joint.build,
        task=joint.task,
        text=f"{joint.code}: {text}",
        before=before | {"joint": joint.pk},
    )
