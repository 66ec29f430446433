"""The thirty joints of the demo shop, against the shop's own tables."""

from __future__ import annotations

from datetime import datetime

import pytest

from fabshop import words
from fabshop.actions.log import start_work
from fabshop.errors import Clash
from fabshop.reckoning.frame import angle_typed
from fabshop.reckoning.prep import GasFact, gas_of_set
from fabshop.reckoning.readiness import readiness
from fabshop.records.joint import Joint
from fabshop.records.shop import Person, Shop
from fabshop.records.task import Task
from fabshop.snapshot import take
from fabshop.snapshot.joint import gas_left_mbar

# Code, build | where | tube, wall, onto | angle, offset, twist | material, heat, state.
TABLE = """
J01 T | A-post L foot | 8 0.9 8 | 62.5 0 0 | 4130 4R118 accepted
J02 T | A-post R foot | 8 0.9 8 | 62.5 0 0 | 4130 4R118 accepted
J03 T | A-post L head | 8 0.9 8 | 48 0 14 | 4130 4R118 accepted
J04 T | A-post R head | 8 0.9 8 | 48 0 -14 | 4130 4R118 accepted
J05 T | Dash bar L | 6 0.9 8 | 90 0 0 | 4130 4R090 accepted
J06 T | Dash bar R | 6 0.9 8 | 90 0 0 | 4130 4R090 accepted
J07 T | Main hoop brace L foot | 8 0.9 8 | 41.2 0 0 | 4130 4R118 rework
J08 T | Main hoop brace R foot | 8 0.9 8 | 41.2 0 0 | 4130 4R118 welded
J09 T | Main hoop brace L head | 8 0.9 8 | 55.3 0 22 | 4130 4R118 accepted
J10 T | Main hoop brace R head | 8 0.9 8 | 55.3 0 -22 | 4130 4R118 accepted
J11 T | Harness bar L | 6 0.9 8 | 90 1 0 | 4130 4R090 accepted
J12 T | Harness bar R | 6 0.9 8 | 90 1 0 | 4130 4R090 accepted
J13 T | Nose stay L | 6 0.9 8 | 33.7 0 0 | 4130 4R090 accepted
J14 T | Nose stay R | 6 0.9 8 | 33.7 0 0 | 4130 4R090 accepted
J15 T | Recovery loop L | 6 0.9 8 | 70 0 0 | 4130 4R090 planned
J16 T | Recovery loop R | 6 0.9 8 | 70 0 0 | 4130 4R090 planned
J17 G | Cab hoop L foot | 8 1 8 | 78.4 0 0 | 304 7K214 planned
J18 G | Cab hoop R foot | 8 1 8 | 78.4 0 0 | 304 7K214 planned
J19 G | Header bar L | 8 1 8 | 90 0 0 | 304 7K214 planned
J20 G | Header bar R | 8 1 8 | 90 0 0 | 304 7K214 planned
J21 G | Back stay L | 8 1 8 | 52.6 0 9 | 304 7K214 planned
J22 G | Back stay R | 8 1 8 | 52.6 0 -9 | 304 7K214 planned
J23 G | Bed cross 1 L | 8 1 8 | 90 0 0 | 304 7K214 rework
J24 G | Bed cross 1 R | 8 1 8 | 90 0 0 | 304 7K214 planned
J25 G | Bed cross 2 L | 8 1 8 | 90 2 0 | 304 7K214 planned
J26 G | Bed cross 2 R | 8 1 8 | 90 2 0 | 304 7K214 planned
J27 G | Bed diagonal front | 8 1 8 | 38.9 0 0 | 304 7K139 planned
J28 G | Bed diagonal rear | 8 1 8 | 38.9 0 180 | 304 7K139 planned
J29 G | Beacon frame rail L | 5 0.7 8 | 85 0 0 | 304 7K166 planned
J30 G | Beacon frame rail R | 5 0.7 8 | 85 0 0 | 304 7K166 planned
"""


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


def test_every_joint_has_the_geometry_and_the_state_of_its_table(demo: Shop) -> None:
    joints = Joint.objects.select_related("build").order_by("code")
    told = []
    for joint in joints:
        section = f"{joint.cut_od_um / 1000:g} {joint.cut_wall_um / 1000:g}"
        turned = f"{joint.offset_um / 1000:g} {joint.twist_mdeg / 1000:g}"
        told.append(
            f"{joint.code} {joint.build.letter} | {joint.name} | {section} "
            f"{joint.onto_od_um / 1000:g} | {joint.angle_mdeg / 1000:g} {turned} | "
            f"{joint.material} {joint.cut_heat_lot} {joint.state}"
        )
    assert told == TABLE.strip().splitlines()


def test_every_dial_is_what_the_angle_leaves_of_a_right_angle(demo: Shop) -> None:
    for joint in Joint.objects.all():
        read = angle_typed(joint.angle_mdeg / 1000)
        assert read.dial_deg == pytest.approx(90 - joint.angle_mdeg / 1000)


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
