"""Templates of joints: both ends of a tube where two joints bear its mark."""

from __future__ import annotations

import pytest
from django.http import Http404
from django.test import Client

from fabshop.errors import BadInput
from fabshop.paper.frame_joint import (
    copes_of_build,
    ends_of_tube,
    joint_cope,
    joint_template,
)
from fabshop.records.joint import Joint
from fabshop.records.shop import Person, Shop
from tests.factories import BuildFactory, CutWishFactory, JointFactory
from tests.paper.a_frame import a_frame
from tests.paper.drawn import lines_of
from tests.paper.test_frame import curves
from tests.paper.test_plan import BASE, said

pytestmark = pytest.mark.django_db

SECTION = {"cut_od_um": 8_000, "cut_wall_um": 900, "onto_od_um": 8_000}


def test_a_joint_alone_has_one_end(shop: Shop) -> None:
    JointFactory(code="J07", name="Brace foot", angle_mdeg=41_200, **SECTION)
    sheet = joint_template("J07")
    html = said(sheet.html(base_url=BASE))
    assert "Cope template: J07 Brace foot" in html
    assert "41.2° 48.8°" in html
    assert f"{BASE}/joints/J07/" in html
    assert "COPE J07" in html
    assert "twist" not in html
    made = sheet.pdf(base_url=BASE, paper="a4")
    assert sum(len(curves(page, 0.5)) for page in lines_of(made)) == 1


def test_two_joints_of_one_mark_are_the_ends_of_a_tube(shop: Shop) -> None:
    build = BuildFactory()
    mark = {"build": build, "cut_mark": "A-post L", **SECTION}
    foot = JointFactory(code="J01", angle_mdeg=62_500, **mark)
    JointFactory(code="J03", angle_mdeg=48_000, twist_mdeg=14_000, **mark)
    JointFactory(code="J99", cut_mark="A-post L", **SECTION)
    html = said(joint_template("J03").html(base_url=BASE))
    assert "J01 and J03" in html
    assert "twist +14.0°" in html
    assert "62.5° 27.5°" in html
    assert "48.0° 42.0°" in html
    assert [one.code for one in ends_of_tube(foot)] == ["J01", "J03"]
    JointFactory(code="J05", **mark)
    assert ends_of_tube(foot) == [foot]


def test_twins_cut_alike_from_one_mark_are_two_tubes_not_two_ends(shop: Shop) -> None:
    mark = {"build": BuildFactory(), "cut_mark": "L04", **SECTION}
    left = JointFactory(code="J21", twist_mdeg=9_000, **mark)
    JointFactory(code="J22", twist_mdeg=-9_000, **mark)
    CutWishFactory(code="L04", quantity=2)
    assert ends_of_tube(left) == [left]
    html = said(joint_template("J21").html(base_url=BASE))
    assert "J22" not in html
    assert "two twists" not in html
    assert "J21 twists by +9° against the cope at the tube's other end" in html


def test_of_the_demo_s_joints_both_ends_of_a_tube_are_on_one_sheet(
    demo: Shop,
) -> None:
    pairs = {
        tuple(j.code for j in ends_of_tube(joint)) for joint in Joint.objects.all()
    }
    assert {pair for pair in pairs if len(pair) == 2} == {
        ("J01", "J03"),
        ("J02", "J04"),
        ("J05", "J06"),
        ("J07", "J09"),
        ("J08", "J10"),
        ("J11", "J12"),
        ("J19", "J20"),
        ("J23", "J24"),
        ("J25", "J26"),
        ("J27", "J28"),
    }
    # The twist that the table gives at the head is the tube's.
    assert joint_cope(ends_of_tube(Joint.objects.get(code="J01")))[0].twist_deg == 14
    assert joint_cope(ends_of_tube(Joint.objects.get(code="J02")))[0].twist_deg == -14
    assert joint_cope(ends_of_tube(Joint.objects.get(code="J10")))[0].twist_deg == -22
    # The end of a tube alone: its twist has nothing on the sheet to be against.
    assert len(joint_cope(ends_of_tube(Joint.objects.get(code="J21")))[0].ends) == 1


def test_an_obtuse_angle_is_drawn_by_its_supplement_and_says_the_side(
    shop: Shop,
) -> None:
    JointFactory(code="J1", angle_mdeg=120_000, **SECTION)
    html = said(joint_template("J1").html(base_url=BASE))
    assert "60.0° 30.0°" in html
    assert "J1: 120° was measured on the obtuse side" in html


def test_two_twists_of_one_tube_are_told(shop: Shop) -> None:
    mark = {"build": BuildFactory(), "cut_mark": "post", **SECTION}
    JointFactory(code="J1", twist_mdeg=9_000, **mark)
    JointFactory(code="J2", twist_mdeg=14_000, **mark)
    html = said(joint_template("J1").html(base_url=BASE))
    assert "The ends say two twists, J1 9° and J2 14°; a tube has one." in html


def test_row_38_what_wraps_past_its_mate_has_no_template(
    shop: Shop,
) -> None:
    JointFactory(code="J1", offset_um=1_000, **SECTION)
    with pytest.raises(BadInput, match=r"J1 wraps past the mate by 1.00 mm: no temp"):
        joint_template("J1")
    mark = {"build": BuildFactory(), "cut_mark": "post"}
    JointFactory(code="J2", **mark, **SECTION)
    JointFactory(code="J3", **mark, **{**SECTION, "cut_od_um": 6_000})
    with pytest.raises(BadInput, match="J2 and J3 bear the mark post, but are of two"):
        joint_template("J2")
    with pytest.raises(Http404):
        joint_template("J77")


def test_a_build_prints_what_it_still_has_to_cope(shop: Shop) -> None:
    a_frame()
    build = BuildFactory(slug="hat")
    assert copes_of_build("hat") is None
    assert copes_of_build("nothing") is None
    mark = {"build": build, "cut_mark": "bar", **SECTION}
    JointFactory(code="J1", **mark)
    JointFactory(code="J2", **mark)
    JointFactory(code="J3", build=build, state="coped", **SECTION)
    JointFactory(code="J4", build=build, offset_um=2_000, **SECTION)
    sheet = copes_of_build("hat")
    assert sheet is not None
    assert sheet.filename == "hat-copes"
    html = said(sheet.html(base_url=BASE))
    assert html.count("Cope template: ") == 1
    assert "Cope template: J1 and J2" in html
    assert "Not on these sheets: J4 wraps past the mate by 2.00 mm" in html
    frames = copes_of_build("wren")
    assert frames is not None
    html = said(frames.html(base_url=BASE))
    assert "Cope template of post" in html
    assert "Cope template of brace" in html
    assert "Cope template of rail" not in html


def test_the_address_of_a_joint_s_template(client: Client, owner: Person) -> None:
    client.force_login(owner)
    JointFactory(code="J1", **SECTION)
    assert client.get("/paper/cope/joint/J1/").status_code == 200
    assert client.get("/paper/cope/joint/J2/").status_code == 404
    asked = client.get("/paper/cope/joint/J1/", {"across": "48.5"})
    assert "correction 1.0309 across" in asked.text
