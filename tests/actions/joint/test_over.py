"""What comes over a joint: told by the owner, taken off by whoever strips it."""

from __future__ import annotations

from datetime import datetime, timedelta

import pytest

from fabshop.actions.joint import set_joint_covers, strip_cover
from fabshop.actions.joint.over import is_over, painted_by
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.joint import Joint
from fabshop.records.shop import Person
from fabshop.records.task import Task
from tests.factories import ComponentFactory, JointFactory, TaskFactory


@pytest.fixture
def joint(owner: Person) -> Joint:
    return JointFactory(code="J01")


def test_covers_are_told_whole_and_what_stays_keeps_its_history(
    owner: Person, helper: Person, joint: Joint, now: datetime
) -> None:
    paint = TaskFactory(code="W36", build=joint.build, state="done", done_at=now)
    fit = TaskFactory(code="W57", build=joint.build)
    shell = ComponentFactory(build=joint.build)
    with pytest.raises(NotAllowed):
        set_joint_covers(by=helper, joint=joint, now=now)
    tasks = [("paints", paint), ("covers", fit)]
    told = {"by": owner, "joint": joint, "now": now}
    set_joint_covers(tasks=tasks, components=[shell], **told)
    assert joint.covers.count() == 3
    strip_cover(
        by=helper, cover=joint.covers.get(task=paint), reason="wire wheel", now=now
    )
    set_joint_covers(tasks=tasks[:1], **told)
    kept = joint.covers.get()
    assert kept.off_at == now


@pytest.mark.parametrize("stray", ["task", "component", "kind", "own"])
def test_what_cannot_come_over_it_is_refused(
    owner: Person, joint: Joint, now: datetime, stray: str
) -> None:
    task = TaskFactory(build=joint.build if stray in ("kind", "own") else None)
    if stray == "task":
        Task.objects.filter(pk=task.pk).update(build=ComponentFactory().build)
        task.refresh_from_db()
    if stray == "own":
        joint.task = task
        joint.save()
    kind = "hides" if stray == "kind" else "covers"
    components = [ComponentFactory()] if stray == "component" else []
    tasks = [] if stray == "component" else [(kind, task)]
    with pytest.raises(BadInput):
        set_joint_covers(
            by=owner, joint=joint, tasks=tasks, components=components, now=now
        )


def test_paint_is_over_a_joint_while_its_task_is_done_and_it_is_not_off(
    owner: Person, joint: Joint, now: datetime
) -> None:
    paint = TaskFactory(code="W36", build=joint.build)
    set_joint_covers(by=owner, joint=joint, tasks=[("paints", paint)], now=now)
    cover = joint.covers.get()
    assert painted_by(joint) == []
    with pytest.raises(Clash, match="Nothing of it is over J01"):
        strip_cover(by=owner, cover=cover, reason="x", now=now)
    Task.objects.update(state="done", done_at=now)
    assert painted_by(joint) == [paint]
    strip_cover(by=owner, cover=cover, reason="x", now=now + timedelta(hours=1))
    assert painted_by(joint) == []
    # Painted anew, it is over it again.
    Task.objects.update(done_at=now + timedelta(hours=2))
    cover.refresh_from_db()
    cover.task.refresh_from_db()
    assert is_over(cover)
