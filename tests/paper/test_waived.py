"""Waivers print on the sheets that follow."""

from __future__ import annotations

from datetime import datetime

from freezegun import freeze_time

from fabshop.actions.joint import move_joint
from fabshop.actions.log import undo_entry
from fabshop.actions.task import waive_hold
from fabshop.paper.joint import traveler
from fabshop.paper.plan import teardown_sheet
from fabshop.paper.waived import waived_holds, waived_of_joints
from fabshop.records.joint import Joint
from fabshop.records.log import LogEntry
from fabshop.records.plan import Plan
from fabshop.records.shop import Person
from fabshop.records.task import Task
from tests.factories import JointFactory


def test_a_waived_hold_is_on_the_teardown_sheet_and_the_traveler(
    demo_plan: Plan, odile: Person, demo_now: datetime
) -> None:
    hold = Task.objects.get(code="W16")
    said = {"by": odile, "task": hold, "now": demo_now}
    waive_hold(reason="rang it out on the car", client_id="w", **said)
    told = "W16 Bench-test loom: rang it out on the car (Odile Marchbanks, Fri 3 Sep"
    with freeze_time(demo_now):
        for sheet in (teardown_sheet(demo_plan.pk), traveler("W34")):
            assert told in sheet.html(base_url="http://shop")
    undo_entry(by=odile, entry=LogEntry.objects.get(client_id="w"), now=demo_now)
    assert waived_holds(demo_plan.build_id, 0) == []


def test_what_was_let_go_of_a_joint_is_told(owner: Person, now: datetime) -> None:
    joint: Joint = JointFactory(
        code="J18",
        cut_heat_lot="",
        heat_waived_why="drop tray",
        onto_material="316",
        dissimilar_why="a boss",
    )
    move_joint(by=owner, joint=joint, state="coped", reason="by hand", now=now)
    assert waived_of_joints([joint]) == [
        "J18 heat lot UNKNOWN: drop tray",
        "J18 dissimilar, on purpose: a boss",
    ]
