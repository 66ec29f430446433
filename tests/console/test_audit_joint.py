"""Contradictions of the joints, each by its name."""

from __future__ import annotations

import pytest

from fabshop.console.audit_joint import JOINT_CHECKS
from fabshop.records.shop import Person, Shop
from tests.factories import (
    MOMENT,
    ColourCallFactory,
    ComponentFactory,
    JointCoverFactory,
    JointFactory,
    JointMoveFactory,
    PrepTickFactory,
    TaskFactory,
)


def found(name: str) -> list[str]:
    return list(JOINT_CHECKS[name]())


@pytest.mark.parametrize("name", list(JOINT_CHECKS))
def test_the_demo_has_none(demo: Shop, name: str) -> None:
    assert found(name) == []


def test_a_twin_that_has_another(db: None) -> None:
    joint = JointFactory(code="J02", name="R")
    JointFactory(code="J01", name="L", twin=joint)
    assert found("joint-twin-of-another") == [
        "J01 L is the twin of J02 R, which has another."
    ]


def test_an_accepted_joint_past_a_stop_and_its_log(owner: Person) -> None:
    JointFactory(code="J01", name="L", state="accepted")
    assert found("joint-accepted-past-a-stop") == ["J01 L is accepted, step 1 is open."]
    assert found("joint-not-as-its-log") == ["J01 L is accepted, its log says planned."]
    joint = JointFactory(code="J02", state="accepted")
    JointMoveFactory(joint=joint, state="accepted", reason="taken over: notebook")
    assert len(found("joint-accepted-past-a-stop")) == 1


def test_a_tick_of_another_checklist(db: None) -> None:
    tick = PrepTickFactory()
    assert found("joint-ticked-elsewhere") == [
        f"{tick.run.joint} is ticked by a step of another checklist."
    ]


def test_what_lies_over_a_joint_that_is_not_accepted(db: None) -> None:
    joint = JointFactory(code="J01", name="L")
    paint = TaskFactory(code="W36", title="Paint", state="done", done_at=MOMENT)
    JointCoverFactory(joint=joint, task=paint, kind="paints")
    shell = ComponentFactory(code="G02", name="Shell", build=joint.build)
    JointCoverFactory(joint=joint, task=None, component=shell)
    assert found("joint-closed-over") == [
        "W36 Paint is done over J01 L, which is planned.",
        "G02 Shell is on over J01 L, which is planned.",
    ]


def test_a_colour_of_an_attempt_never_begun(db: None) -> None:
    call = ColourCallFactory(attempt=2)
    assert found("joint-colour-of-nothing") == [
        f"{call.joint} has a colour of attempt 2, never begun."
    ]
