"""Nobody paints, covers or closes over a joint that is not accepted."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop.actions.build import put_on
from fabshop.actions.joint import set_joint_covers
from fabshop.actions.log import finish_work, start_work
from fabshop.errors import Clash
from fabshop.records.joint import Joint
from fabshop.records.shop import Person
from tests.factories import ComponentFactory, JointFactory, SiteFactory, TaskFactory


@pytest.fixture
def joint(owner: Person) -> Joint:
    return JointFactory(code="J07", state="welded")


def test_painting_over_it_is_not_begun_and_not_finished(
    owner: Person, joint: Joint, now: datetime
) -> None:
    paint = TaskFactory(code="W36", build=joint.build)
    set_joint_covers(by=owner, joint=joint, tasks=[("paints", paint)], now=now)
    for act in (start_work, finish_work):
        with pytest.raises(Clash, match=r"W36 would close over J07 \(welded\)") as no:
            act(by=owner, task=paint, now=now)
        assert no.value.code == "joint-not-accepted"
    Joint.objects.update(state="accepted")
    start_work(by=owner, task=paint, now=now)
    finish_work(by=owner, task=paint, now=now)


def test_a_cover_may_be_made_and_not_put_over_it(
    owner: Person, joint: Joint, now: datetime
) -> None:
    cover = TaskFactory(code="W57", build=joint.build)
    set_joint_covers(by=owner, joint=joint, tasks=[("covers", cover)], now=now)
    start_work(by=owner, task=cover, now=now)
    with pytest.raises(Clash, match="before its weld is accepted"):
        finish_work(by=owner, task=cover, now=now)


def test_a_component_that_lies_over_it_is_not_put_on_or_fitted(
    owner: Person, joint: Joint, now: datetime
) -> None:
    shell = ComponentFactory(code="G02", build=joint.build, is_on=False)
    fit = TaskFactory(code="W57", build=joint.build)
    SiteFactory(task=fit, component=shell, kind="fits")
    set_joint_covers(by=owner, joint=joint, components=[shell], now=now)
    with pytest.raises(Clash, match="G02 would close over J07"):
        put_on(by=owner, component=shell, now=now)
    with pytest.raises(Clash, match="W57 would close over J07"):
        finish_work(by=owner, task=fit, now=now)
    Joint.objects.update(state="accepted")
    put_on(by=owner, component=shell, now=now)
