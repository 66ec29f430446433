"""Joints that are not accepted, and the refusal of whatever would come over them."""

from __future__ import annotations

from collections.abc import Iterable

from django.db.models import Q

from fabshop import words
from fabshop.errors import Clash
from fabshop.records.build import Component
from fabshop.records.joint import Joint
from fabshop.records.task import Task


def joints_under(
    *, task: Task | None = None, components: Iterable[Component] = ()
) -> list[Joint]:
    """The joints, not accepted, that this task or these components would close.

    They are held until this action is over, so that none is rejected meanwhile.
    """
    over = Q(covers__component__in=[part.pk for part in components])
    if task is not None:
        over |= Q(covers__task=task)
    keys = Joint.objects.not_accepted().filter(over).values("pk")
    held = Joint.objects.select_for_update(of=("self",), no_key=True)
    return list(held.filter(pk__in=keys).order_by("code"))


def refuse_over_joints(
    *, task: Task | None = None, components: Iterable[Component] = ()
) -> None:
    """Refuse to paint, cover or close over a joint that is not accepted, by name."""
    parts = list(components)
    found = joints_under(task=task, components=parts)
    if not found:
        return
    told = ", ".join(
        f"{joint.code} ({words.JointState(joint.state).label})" for joint in found
    )
    what = task.code if task else " ".join(part.code for part in parts)
    raise Clash(
        f"Not yet: {what} would close over {told}. Nobody paints or covers a joint "
        "before its weld is accepted.",
        code="joint-not-accepted",
    )


def refuse_to_paint(task: Task) -> None:
    """Refuse to begin painting over joints that are not accepted."""
    if task.joint_covers.filter(kind=words.JointCloses.PAINTS).exists():
        refuse_over_joints(task=task)
