"""What may never be true of a joint, its checklist and its colour calls."""

from __future__ import annotations

from typing import Any

import pytest

from fabshop.records.joint import Joint
from tests.factories import (
    ColourCallFactory,
    ColourRowFactory,
    ColourTableFactory,
    ComponentFactory,
    JointCoverFactory,
    JointFactory,
    JointMoveFactory,
    PrepRunFactory,
    PrepStepFactory,
    PrepTemplateFactory,
)
from tests.records.refused import refused

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize(
    ("check", "fields"),
    [
        ("joint_state_known", {"state": "glued"}),
        ("joint_metal_known", {"metal": "cheese"}),
        ("joint_angle_between_two_axes", {"angle_mdeg": 0}),
        ("joint_angle_between_two_axes", {"angle_mdeg": 180_000}),
        ("joint_twist_within_a_turn", {"twist_mdeg": -180_001}),
        ("joint_wall_within_its_radius", {"cut_wall_um": 4001}),
        ("joint_wall_within_its_radius", {"onto_od_um": 0}),
        (
            "joint_accepted_has_been_looked_at",
            {"state": "accepted", "inspect_why": "?"},
        ),
        ("joint_rework_is_counted", {"state": "rework"}),
        ("joint_of_known_lots", {"state": "tacked", "cut_heat_lot": ""}),
        ("joint_of_known_lots", {"state": "welded", "onto_heat_lot": ""}),
        ("joint_of_one_material", {"state": "tacked", "onto_material": "4130"}),
    ],
)
def test_a_joint_that_cannot_be_is_refused(check: str, fields: dict[str, Any]) -> None:
    with refused(check):
        JointFactory(**fields)


def test_an_unknown_lot_may_be_planned_and_goes_in_with_a_reason() -> None:
    JointFactory(state="coped", cut_heat_lot="", onto_material="316")
    JointFactory(state="tacked", cut_heat_lot="", heat_waived_why="practice frame")
    JointFactory(state="tacked", onto_material="316", dissimilar_why="a boss")


def test_a_joint_is_not_its_own_twin() -> None:
    joint: Joint = JointFactory()
    joint.twin = joint
    with refused("joint_is_not_its_own_twin"):
        joint.save()


def test_what_comes_over_a_joint_is_a_task_or_a_component_once() -> None:
    cover = JointCoverFactory()
    with refused():
        JointCoverFactory(joint=cover.joint, task=cover.task)
    with refused("joint_cover_by_a_task_or_a_component"):
        JointCoverFactory(component=ComponentFactory())
    with refused("joint_cover_by_a_task_or_a_component"):
        JointCoverFactory(task=None)
    with refused("joint_cover_by_a_task_or_a_component"):
        JointCoverFactory(task=None, component=ComponentFactory(), kind="paints")


def test_a_rework_says_what_is_wrong() -> None:
    with refused("joint_reworked_with_a_reason"):
        JointMoveFactory(state="rework")
    with refused("joint_move_states_known"):
        JointMoveFactory(state="glued")
    JointMoveFactory(state="rework", reason="grey root")


def test_a_checklist_keeps_its_versions_and_says_where_each_step_is_from() -> None:
    template = PrepTemplateFactory(version=3)
    with refused():
        PrepTemplateFactory(version=3)
    with refused("prep_template_metal"):
        PrepTemplateFactory(metal="cheese")
    step = PrepStepFactory(template=template)
    with refused():
        PrepStepFactory(template=template, number=step.number)
    with refused("prep_step_says_its_source"):
        PrepStepFactory(source="")
    with refused("prep_step_words_known"):
        PrepStepFactory(stage="later")
    with refused("prep_step_minutes_of_a_start_mark"):
        PrepStepFactory(minutes=4)
    PrepStepFactory(kind="minutes", minutes=4)


def test_an_attempt_has_one_checklist() -> None:
    run = PrepRunFactory()
    with refused():
        PrepRunFactory(joint=run.joint)
    PrepRunFactory(joint=run.joint, attempt=1)


def test_a_colour_is_judged_once_in_a_table_that_says_its_source() -> None:
    row = ColourRowFactory()
    with refused():
        ColourRowFactory(table=row.table)
    with refused("colour_row_words_known"):
        ColourRowFactory(colour="sky")
    with refused("colour_table_says_its_source"):
        ColourTableFactory(source="")
    with refused("colour_table_metal"):
        ColourTableFactory(metal="cheese")


def test_a_colour_call_is_overruled_with_a_reason() -> None:
    with refused("colour_call_overruled_with_a_reason"):
        ColourCallFactory(judged="reject", verdict="accept")
    with refused("colour_call_words_known"):
        ColourCallFactory(judged="person", verdict="person")
    ColourCallFactory(judged="reject", verdict="accept", reason="only the tab")
    ColourCallFactory(judged="person", verdict="reject")
