"""Drawing a frame by hand, and what a form says when it cannot be drawn."""

from __future__ import annotations

import pytest
from django.test import Client

from fabshop.records.frame import Frame, TubeEnd
from fabshop.records.stock import CutWish
from tests.factories import MaterialFactory
from tests.paper.a_frame import a_frame

pytestmark = pytest.mark.django_db

BRACE = {"mark": "stay", "start": "E", "end": "D", "od": "6", "wall": "0,9"}


@pytest.fixture
def frame(page: Client) -> Frame:
    return Frame.objects.get(code=a_frame())


def test_a_node_is_placed_moved_and_taken_out(page: Client, frame: Frame) -> None:
    at = "/frames/cradle/nodes"
    made = page.post(f"{at}/new/", {"code": "G", "x": "1/4 in", "y": "−3", "z": "0"})
    assert made.status_code == 422
    assert "“−3” is not a length" in made.text
    page.post(f"{at}/new/", {"code": "G", "x": "1/4 in", "y": "-3", "z": "0"})
    node = frame.nodes.get(code="G")
    assert (node.x_um, node.y_um) == (6_350, -3_000)
    assert 'value="6.35"' in page.get(f"{at}/G/").text
    page.post(f"{at}/G/", {"x": "7", "y": "-3", "z": "0"})
    node.refresh_from_db()
    assert node.x_um == 7_000
    page.post(f"{at}/G/remove/")
    assert not frame.nodes.filter(code="G").exists()
    kept = page.post(f"{at}/A/remove/")
    assert kept.status_code == 409
    assert "rail still end or bend at node A" in kept.text


def test_a_tube_is_drawn_and_changed(page: Client, frame: Frame) -> None:
    new = "/frames/cradle/tubes/new/"
    assert page.get(new).status_code == 200
    made = page.post(new, {**BRACE, "start_onto": "rail", "end_onto": "plate"})
    assert made.headers["Location"] == "/frames/cradle/tubes/stay/"
    ends = list(TubeEnd.objects.filter(tube__mark="stay"))
    assert [end.kind for end in ends] == ["coped", "plate"]
    change = "/frames/cradle/tubes/stay/change/"
    form = page.get(change).text
    assert 'value="6"' in form
    assert '<option value="plate" selected>' in form
    page.post(
        change, {**BRACE, "wall": "1", "bends": "C:20", "material": "ti-9", "twin": ""}
    )
    tube = frame.tubes.get(mark="stay")
    assert (tube.wall_um, tube.material) == (1_000, "ti-9")
    assert tube.bends.get().radius_um == 20_000
    assert "C:20" in page.get(change).text


def test_the_dial_typed_for_the_angle_is_asked_about(
    page: Client, frame: Frame
) -> None:
    new = "/frames/cradle/tubes/new/"
    fields = {
        **BRACE,
        "start": "E",
        "end": "F",
        "start_onto": "rail",
        "start_angle": "59",
    }
    asked = page.post(new, fields)
    assert asked.status_code == 409
    assert "Angle between, or dial?" in asked.text
    assert 'name="dial" value="start_angle"' in asked.text
    assert "It is the angle between, as typed" in asked.text
    page.post(new, {**fields, "dial": "start_angle"})
    end = TubeEnd.objects.get(tube__mark="stay", which=1)
    assert end.typed_mdeg == 31_000
    page.post(new, {**fields, "mark": "other", "confirm": "yes"})
    assert TubeEnd.objects.get(tube__mark="other", which=1).typed_mdeg == 59_000


@pytest.mark.parametrize(
    ("wrong", "sentence"),
    [
        ({"od": ""}, "OD: nothing is written"),
        ({"wall": "9"}, "up to the radius, 3 mm"),
        ({"start_angle": "steep"}, "“steep” is not degrees"),
        ({"bends": "C:"}, "is not a node and a radius like K1:40"),
        ({"start_onto": "mast"}, "There is no tube “mast” in this frame"),
    ],
)
def test_what_cannot_be_drawn_keeps_what_was_typed(
    page: Client, frame: Frame, wrong: dict[str, str], sentence: str
) -> None:
    answer = page.post("/frames/cradle/tubes/new/", {**BRACE, **wrong})
    assert answer.status_code == 422
    assert sentence in answer.text
    assert 'value="stay"' in answer.text


def test_a_tube_is_mirrored_and_taken_out(page: Client, frame: Frame) -> None:
    middle = page.post("/frames/cradle/tubes/rail/mirror/", {"twin_mark": "rail-R"})
    assert middle.status_code == 422
    assert "lies in the middle and is its own mirror" in middle.text
    frame.nodes.filter(code="E").update(y_um=25_000)
    page.post("/frames/cradle/tubes/brace/mirror/", {"twin_mark": "brace-R"})
    twin = frame.tubes.get(mark="brace-R")
    assert twin.start.y_um == -25_000
    assert twin.twin is not None
    kept = page.post("/frames/cradle/tubes/rail/remove/")
    assert kept.status_code == 409
    page.post("/frames/cradle/tubes/brace-R/remove/")
    assert not frame.tubes.filter(mark="brace-R").exists()


def test_a_frame_is_renamed(page: Client, frame: Frame) -> None:
    page.post("/frames/cradle/change/", {"name": "Hull", "mirror": "x"})
    frame.refresh_from_db()
    assert (frame.name, frame.mirror) == ("Hull", "x")
    assert page.post("/frames/cradle/change/", {"name": ""}).status_code == 422


def test_its_tubes_go_onto_the_cut_list(page: Client, frame: Frame) -> None:
    refused = page.post("/frames/cradle/wish/")
    assert refused.status_code == 422
    assert "no material is said" in refused.text
    frame.tubes.update(material=MaterialFactory(code="ti-9").code)
    assert page.post("/frames/cradle/wish/").headers["Location"] == "/cuts/"
    assert CutWish.objects.count() == 3


def test_only_the_owner_draws(helpers_page: Client) -> None:
    a_frame()
    for path in ("nodes/new/", "tubes/new/", "change/"):
        assert helpers_page.post(f"/frames/cradle/{path}", BRACE).status_code == 403
