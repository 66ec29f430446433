"""Joints told and changed on their forms."""

from __future__ import annotations

import pytest
from django.test import Client

from fabshop.records.joint import Joint
from tests.factories import BuildFactory, ComponentFactory, JointFactory, TaskFactory

HOOP = {
    "code": "J17",
    "name": "Cab hoop L foot",
    "material": "304",
    "cut_od": "8",
    "cut_wall": "1 mm",
    "onto_od": "8 mm",
    "angle": "78,4",
    "offset": "-1.5",
    "twist": "−9",
    "gas": "3",
}


@pytest.mark.django_db
def test_a_joint_is_told_as_it_is_read_off_the_drawing(page: Client) -> None:
    build = BuildFactory(slug="gannet")
    task = TaskFactory(code="W43", build=build, family="welding")
    assert "Another joint" in page.get("/builds/gannet/joints/new/").text
    page.post("/builds/gannet/joints/new/", {**HOOP, "task": "W43"})
    joint = Joint.objects.get(code="J17")
    assert (joint.cut_od_um, joint.cut_wall_um, joint.onto_od_um) == (8000, 1000, 8000)
    assert (joint.angle_mdeg, joint.twist_mdeg) == (78_400, -9000)
    assert (joint.offset_um, joint.gas_mbar, joint.task) == (-1500, 3000, task)
    assert joint.metal == "stainless"


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ({"angle": "steep"}, "“steep” is not a figure"),
        ({"angle": "nan"}, "“nan” is not a figure"),
        ({"angle": "200"}, "200° is not between 0 and 180"),
        ({"cut_wall": "5"}, "5 mm does not go into a tube of 8 mm"),
        ({"material": "cheddar"}, "is not in the table"),
        ({"task": "W99"}, "There is no task W99"),
        ({"name": ""}, "nothing is written"),
    ],
)
def test_what_cannot_be_comes_back_with_what_was_typed(
    page: Client, typed: dict[str, str], says: str
) -> None:
    BuildFactory(slug="gannet")
    answer = page.post("/builds/gannet/joints/new/", HOOP | typed)
    assert answer.status_code == 422
    assert says in answer.text
    assert 'value="J17"' in answer.text
    assert not Joint.objects.exists()


@pytest.mark.django_db
def test_a_change_keeps_the_rest(page: Client) -> None:
    joint = JointFactory(code="J17")
    shown = page.get("/joints/J17/change/").text
    assert 'value="78.4"' in shown
    said = {
        **HOOP,
        "seen_version": joint.version,
        "heat_waived_why": "drop tray",
        "onto_material": "316",
        "dissimilar_why": "a boss",
    }
    page.post("/joints/J17/change/", said)
    joint.refresh_from_db()
    assert joint.heat_waived_why == "drop tray"
    assert joint.dissimilar_why == "a boss"
    again = page.post("/joints/J17/change/", {**said, "name": "Other"})
    assert again.status_code == 409


@pytest.mark.django_db
def test_a_helper_writes_lots_and_changes_nothing_else(helpers_page: Client) -> None:
    joint = JointFactory(code="J17", cut_heat_lot="")
    assert helpers_page.get("/joints/J17/change/").status_code == 403
    helpers_page.post(
        "/joints/J17/lots/", {"cut_heat_lot": "7K139", "onto_heat_lot": "7K214"}
    )
    joint.refresh_from_db()
    assert joint.cut_heat_lot == "7K139"


@pytest.mark.django_db
def test_a_twin_of_the_same_twist_offers_the_mirror(page: Client) -> None:
    joint = JointFactory(code="J21", twist_mdeg=9000)
    twin = JointFactory(code="J22", twist_mdeg=9000, build=joint.build)
    paint = TaskFactory(code="W36", build=joint.build)
    shell = ComponentFactory(code="G02", build=joint.build)
    said = {"twin": "J22", "paints": "W36", "parts": "G02"}
    asked = page.post("/joints/J21/over/", said)
    assert asked.status_code == 409
    assert 'name="mirror" value="yes"' in asked.text
    page.post("/joints/J21/over/", {**said, "mirror": "yes"})
    twin.refresh_from_db()
    assert twin.twist_mdeg == -9000
    assert {row.task or row.component for row in joint.covers.all()} == {paint, shell}
    stray = page.post("/joints/J21/over/", {"paints": "W99"})
    assert stray.status_code == 422
    assert "There is no task W99" in stray.text


@pytest.mark.django_db
def test_row_37_the_dial_typed_for_the_angle_is_asked_about(page: Client) -> None:
    joint = JointFactory(code="J21", angle_mdeg=65_000)
    twin = JointFactory(code="J22", angle_mdeg=25_000, build=joint.build)
    asked = page.post("/joints/J21/over/", {"twin": "J22"})
    assert asked.status_code == 409
    assert "Angle between, or dial?" in asked.text
    assert 'name="angles" value="yes"' in asked.text
    page.post("/joints/J21/over/", {"twin": "J22", "angles": "yes"})
    joint.refresh_from_db()
    assert joint.twin == twin
