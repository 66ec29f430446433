"""The thirty joints of the demo shop, against the shop's own tables."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop import words
from fabshop.actions.log import start_work
from fabshop.errors import Clash
from fabshop.reckoning.prep import GasFact, gas_of_set
from fabshop.reckoning.readiness import readiness
from fabshop.records.joint import Joint
from fabshop.records.shop import Person, Shop
from fabshop.records.task import Task
from fabshop.snapshot import take
from fabshop.snapshot.joint import gas_left_mbar


def test_there_are_thirty_joints_and_fourteen_pairs(demo: Shop) -> None:
    joints = Joint.objects.select_related("build", "twin")
    assert joints.count() == 30
    assert joints.filter(build__slug="tuppence").count() == 16
    pairs = {frozenset((j.code, j.twin.code)) for j in joints if j.twin}
    assert len(pairs) == 14
    assert all(joint.twin.twin_id == joint.pk for joint in joints if joint.twin)
    # J27 and J28 are front and rear, not left and right.
    assert {j.code for j in joints if j.twin is None} == {"J27", "J28"}
    states = [joint.state for joint in joints]
    counted = {state: states.count(state) for state in set(states)}
    assert counted == {"accepted": 12, "planned": 15, "rework": 2, "welded": 1}


@pytest.mark.parametrize(
    ("code", "angle", "offset", "twist", "section", "heat"),
    [
        ("J01", 62.5, 0, 0, (8, 0.9), "4R118"),
        ("J04", 48.0, 0, -14, (8, 0.9), "4R118"),
        ("J11", 90.0, 1.0, 0, (6, 0.9), "4R090"),
        ("J17", 78.4, 0, 0, (8, 1), "7K214"),
        ("J22", 52.6, 0, -9, (8, 1), "7K214"),
        ("J28", 38.9, 0, 180, (8, 1), "7K139"),
        ("J30", 85.0, 0, 0, (5, 0.7), "7K166"),
    ],
)
def test_a_joint_has_the_geometry_of_its_table(
    demo: Shop,
    code: str,
    angle: float,
    offset: float,
    twist: float,
    section: tuple[float, float],
    heat: str,
) -> None:
    joint = Joint.objects.get(code=code)
    assert joint.angle_mdeg / 1000 == angle
    assert joint.offset_um / 1000 == offset
    assert joint.twist_mdeg / 1000 == twist
    assert (joint.cut_od_um / 1000, joint.cut_wall_um / 1000) == section
    assert joint.onto_od_um == 8000
    assert joint.cut_heat_lot == heat


def test_every_twin_is_a_mirror(demo: Shop) -> None:
    for joint in Joint.objects.exclude(twin=None).select_related("twin"):
        assert joint.twin is not None
        assert joint.twin.twist_mdeg == -joint.twist_mdeg
        assert joint.twin.angle_mdeg == joint.angle_mdeg


def test_the_cracked_foot_calls_up_its_twin(demo: Shop) -> None:
    failed, twin = Joint.objects.filter(code__in=["J07", "J08"])
    assert (failed.state, failed.reworks, failed.found) == (
        "rework",
        1,
        "toe crack 3 mm",
    )
    assert (twin.state, twin.inspect_why) == (
        "welded",
        "twin J07 failed, toe crack 3 mm",
    )


def test_the_hoop_takes_all_the_argon_there_is(demo: Shop) -> None:
    hoop = Joint.objects.filter(task__code="W43")
    gas = [GasFact(joint.code, joint.gas_mbar) for joint in hoop]
    assert gas_of_set(gas, gas_left_mbar()).sentence == (
        "18 bar, this set needs 18: no reserve, book the swap."
    )


def test_nobody_paints_the_frame_before_its_welds_are_accepted(
    demo: Shop, odile: Person, demo_now: datetime
) -> None:
    ready = readiness(take(demo_now))
    told = [reason.sentence for reason in ready["W36"].reasons]
    assert (
        "J07 rework, J08 welded, J15 planned, J16 planned: nobody paints or covers a "
        "joint before its weld is accepted"
    ) in told
    assert words.Why.ON_HOLD in [reason.why for reason in ready["W57"].reasons]
    with pytest.raises(Clash, match="W36 would close over J07"):
        start_work(by=odile, task=Task.objects.get(code="W36"), now=demo_now)
