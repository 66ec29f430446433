"""Joints as they are told: what is refused, and what must be waived."""

from __future__ import annotations

from datetime import datetime
from typing import Any

import pytest

from fabshop.actions.joint import add_joint, change_joint, move_joint, set_lots
from fabshop.errors import BadInput, Clash, NotAllowed
from fabshop.records.build import Build
from fabshop.records.joint import Joint
from fabshop.records.log import LogEntry
from fabshop.records.shop import Person
from fabshop.words import PrepStage
from tests.actions.joint.prepared import tick_all
from tests.factories import BuildFactory, JointFactory, TaskFactory

HOOP: dict[str, Any] = {
    "code": "J17",
    "name": "Cab hoop L foot",
    "material": "304",
    "cut_od_um": 8000,
    "cut_wall_um": 1000,
    "onto_od_um": 8000,
    "angle_mdeg": 78_400,
}


@pytest.fixture
def build(owner: Person) -> Build:
    return BuildFactory()


def test_a_joint_begins_planned_and_takes_the_checklist_of_its_metal(
    owner: Person, build: Build, now: datetime
) -> None:
    joint = add_joint(by=owner, build=build, now=now, client_id="j", **HOOP)
    assert (joint.state, joint.metal) == ("planned", "stainless")
    assert add_joint(by=owner, build=build, now=now, client_id="j", **HOOP) == joint
    assert LogEntry.objects.get(client_id="j").text == "J17: joint added, planned"
    with pytest.raises(Clash, match="There is a joint J17 already"):
        add_joint(by=owner, build=build, now=now, **HOOP)


@pytest.mark.parametrize(
    ("fields", "field", "says"),
    [
        ({"angle_mdeg": 0}, "angle_mdeg", "nothing is written"),
        ({"angle_mdeg": 180_000}, "angle_mdeg", "180° is not between 0 and 180"),
        ({"twist_mdeg": 180_001}, "twist_mdeg", "more than half a turn"),
        ({"cut_wall_um": 4001}, "cut_wall_um", "4.001 mm does not go into a tube of 8"),
        ({"cut_od_um": -1}, "cut_od_um", "less than nothing"),
        ({"material": "unobtainium"}, "metal", "is not in the table"),
        ({"metal": "cheese"}, "metal", "“cheese” is none of titanium"),
        ({"name": ""}, "name", "nothing is written"),
        ({"state": "accepted"}, "taken_over", "begins planned"),
        ({"colour": "red"}, "colour", "A joint has no colour"),
    ],
)
def test_rows_36_and_39_what_no_joint_can_be_is_refused_by_its_field(
    owner: Person, build: Build, now: datetime, fields: Any, field: str, says: str
) -> None:
    with pytest.raises(BadInput, match=says) as refused:
        add_joint(by=owner, build=build, now=now, **HOOP | fields)
    assert refused.value.field == field
    assert not Joint.objects.exists()


def test_a_task_of_another_build_does_not_weld_it(
    owner: Person, build: Build, now: datetime
) -> None:
    stray = TaskFactory(code="W99", build=BuildFactory())
    with pytest.raises(BadInput, match="another build"):
        add_joint(by=owner, build=build, now=now, **HOOP, task=stray)


def test_what_was_made_before_is_taken_over_and_says_so(
    owner: Person, build: Build, now: datetime
) -> None:
    lots = {"cut_heat_lot": "4R118", "onto_heat_lot": "4R118"}
    joint = add_joint(
        by=owner,
        build=build,
        now=now,
        state="rework",
        found="toe crack 3 mm",
        taken_over="the notebook",
        **HOOP,
        **lots,
    )
    assert (joint.state, joint.reworks) == ("rework", 1)
    assert joint.moves.get().reason == "taken over: the notebook; toe crack 3 mm"


def test_an_unknown_heat_lot_does_not_go_into_a_frame_without_a_reason(
    owner: Person, helper: Person, now: datetime
) -> None:
    joint = JointFactory(code="J15", cut_heat_lot="")
    tick_all(owner, joint, now, until=PrepStage.TACK)
    with pytest.raises(
        Clash, match="heat lot of the coped tube at J15 is unknown"
    ) as e:
        move_joint(by=owner, joint=joint, state="tacked", now=now)
    assert (e.value.code, e.value.field) == ("heat-unknown", "heat_waived_why")
    with pytest.raises(NotAllowed, match="Only the owner"):
        change_joint(by=helper, joint=joint, now=now, heat_waived_why="drop")
    change_joint(by=owner, joint=joint, now=now, heat_waived_why="from the drop tray")
    joint = move_joint(by=owner, joint=joint, state="tacked", now=now)
    assert joint.state == "tacked"
    with pytest.raises(Clash, match="unknown"):
        change_joint(by=owner, joint=joint, now=now, heat_waived_why="")


def test_a_lot_written_down_at_the_bench_lets_it_go_on(
    helper: Person, now: datetime
) -> None:
    joint = JointFactory(cut_heat_lot="", onto_heat_lot="")
    tick_all(helper, joint, now, until=PrepStage.TACK)
    set_lots(
        by=helper, joint=joint, now=now, cut_heat_lot="7K214", onto_heat_lot="7K139"
    )
    assert move_joint(by=helper, joint=joint, state="tacked", now=now).pk == joint.pk
    with pytest.raises(BadInput, match="is no lot"):
        set_lots(by=helper, joint=joint, now=now, name="other")


@pytest.mark.parametrize("fields", [{"onto_material": "4130"}, {"filler": "ER70S-2"}])
def test_row_35_two_materials_are_joined_on_purpose_or_not_at_all(
    owner: Person, now: datetime, fields: dict[str, str]
) -> None:
    joint = JointFactory(**fields)
    tick_all(owner, joint, now, until=PrepStage.TACK)
    with pytest.raises(Clash, match="is 304, but .* is not") as refused:
        move_joint(by=owner, joint=joint, state="tacked", now=now)
    assert refused.value.code == "dissimilar"
    change_joint(by=owner, joint=joint, now=now, dissimilar_why="a boss, tested")
    move_joint(by=owner, joint=joint, state="tacked", now=now)


def test_a_filler_of_the_same_family_is_no_mismatch(
    owner: Person, now: datetime
) -> None:
    joint = JointFactory(filler="308L", onto_material="304")
    tick_all(owner, joint, now, until=PrepStage.TACK)
    assert move_joint(by=owner, joint=joint, state="tacked", now=now).state == "tacked"


def test_the_geometry_of_a_welded_joint_stays(owner: Person, now: datetime) -> None:
    joint = JointFactory(state="welded")
    with pytest.raises(Clash, match="its geometry stays"):
        change_joint(by=owner, joint=joint, now=now, angle_mdeg=90_000)
    change_joint(by=owner, joint=joint, now=now, filler_lot="7F020")
    joint.refresh_from_db()
    assert joint.filler_lot == "7F020"


def test_two_who_change_it_at_once_are_told(owner: Person, now: datetime) -> None:
    joint = JointFactory()
    read = joint.version
    change_joint(by=owner, joint=joint, now=now, gas_mbar=3000, seen_version=read)
    with pytest.raises(Clash, match="has changed since you read it"):
        change_joint(by=owner, joint=joint, now=now, gas_mbar=2000, seen_version=read)
