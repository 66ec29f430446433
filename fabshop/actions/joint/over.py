"""What comes over a joint: nobody paints, covers or closes one that is not accepted."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from django.db import transaction

from fabshop import words
from fabshop.actions.joint.locked import locked_joint, write_joint
from fabshop.actions.shop import require
from fabshop.actions.typed import some_line
from fabshop.errors import BadInput, Clash
from fabshop.records.build import Component
from fabshop.records.joint import Joint, JointCover
from fabshop.records.shop import Person
from fabshop.records.task import Task

_DONE = (words.TaskState.DONE, words.TaskState.ACCEPTED)


@transaction.atomic
def set_joint_covers(
    *,
    by: Person,
    joint: Joint,
    now: datetime,
    tasks: Iterable[tuple[words.JointCloses | str, Task]] = (),
    components: Iterable[Component] = (),
) -> Joint:
    """Say which tasks paint or cover a joint, and which components lie over it."""
    require(by, "own")
    joint = locked_joint(joint)
    wanted: dict[tuple[int | None, int | None], str] = {}
    for kind, task in tasks:
        if kind not in list(words.JointCloses):
            raise BadInput(
                f"“{str(kind)[:20]}” is neither covers nor paints.", field="covers"
            )
        if task.build_id not in (None, joint.build_id):
            raise BadInput(f"{task} is a task of another build.", field="covers")
        if task.pk == joint.task_id:
            raise BadInput(f"{task} welds {joint.code} itself.", field="covers")
        wanted[task.pk, None] = kind
    for component in components:
        if component.build_id != joint.build_id:
            raise BadInput(f"{component} is on another build.", field="covers")
        wanted[None, component.pk] = words.JointCloses.COVERS
    kept = {
        (row.task_id, row.component_id): row
        for row in joint.covers.select_for_update(of=("self",))
    }
    for key, row in kept.items():
        if wanted.get(key) != row.kind:
            row.delete()
    JointCover.objects.bulk_create(
        JointCover(joint=joint, task_id=task, component_id=component, kind=kind)
        for (task, component), kind in wanted.items()
        if (task, component) not in kept or kept[task, component].kind != kind
    )
    write_joint(
        words.EntryKind.JOINT, joint, "what comes over it", by=by, now=now, before={}
    )
    return joint


@transaction.atomic
def strip_cover(
    *, by: Person, cover: JointCover, reason: str, now: datetime
) -> JointCover:
    """Say that what a task put over a joint has been taken off again, and how."""
    require(by, "write")
    joint = locked_joint(cover.joint)
    cover = JointCover.objects.select_related("task").get(pk=cover.pk)
    if not is_over(cover):
        raise Clash(f"Nothing of it is over {joint.code}.", code="nothing-over")
    how = some_line(reason, field="reason", label="How", most=200)
    cover.off_at = now
    cover.save(update_fields=["off_at"])
    what = "paint" if cover.kind == words.JointCloses.PAINTS else "cover"
    write_joint(
        words.EntryKind.JOINT,
        joint,
        f"{what} of {cover.task} off: {how}",
        by=by,
        now=now,
        before={},
    )
    return cover


def is_over(cover: JointCover) -> bool:
    """Whether what a task puts over a joint is over it now."""
    task = cover.task
    if task is None or task.state not in _DONE:
        return False
    return cover.off_at is None or (
        task.done_at is not None and cover.off_at < task.done_at
    )


def painted_by(joint: Joint) -> list[Task]:
    """The tasks whose paint is on this joint."""
    rows = joint.covers.filter(kind=words.JointCloses.PAINTS).select_related("task")
    return [row.task for row in rows if row.task is not None and is_over(row)]


def refuse_painted(joint: Joint) -> None:
    painted = painted_by(joint)
    if painted:
        names = " and ".join(str(task) for task in painted)
        raise Clash(
            f"{joint.code} is painted over, {names}: its colour cannot be called. "
            "Take the paint off, or the owner waives the colour with a reason.",
            code="painted",
        )
