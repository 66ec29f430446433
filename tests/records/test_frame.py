"""What may never be true of a tube frame."""

from __future__ import annotations

from typing import Any

import pytest

from tests.factories import (
    BendFactory,
    FrameFactory,
    NodeFactory,
    PrintFitFactory,
    TubeEndFactory,
    TubeFactory,
)
from tests.records.refused import refused

pytestmark = pytest.mark.django_db


def test_a_frame_is_mirrored_across_an_axis() -> None:
    with refused("frame_mirror_is_an_axis"):
        FrameFactory(mirror="q")


def test_a_node_has_its_code_and_its_place_alone() -> None:
    node = NodeFactory()
    with refused():
        NodeFactory(frame=node.frame, code=node.code)
    with refused():
        NodeFactory(frame=node.frame, x_um=node.x_um)
    NodeFactory(code=node.code, x_um=node.x_um)


@pytest.mark.parametrize(
    ("od", "wall"), [(0, 0), (8000, 0), (8000, 4001), (6000, 8000)]
)
def test_a_wall_lies_within_the_radius(od: int, wall: int) -> None:
    with refused("tube_wall_within_its_radius"):
        TubeFactory(od_um=od, wall_um=wall)
    TubeFactory(od_um=6000, wall_um=3000)


def test_a_tube_goes_somewhere_and_is_not_its_own_twin() -> None:
    node = NodeFactory()
    with refused("tube_goes_somewhere"):
        TubeFactory(frame=node.frame, start=node, end=node)
    tube = TubeFactory()
    with refused():
        TubeFactory(frame=tube.frame, mark=tube.mark)
    tube.twin = tube
    with refused("tube_is_not_its_own_twin"):
        tube.save()


@pytest.mark.parametrize(
    ("check", "fields"),
    [
        ("tube_end_is_first_or_second", {"which": 3}),
        ("tube_end_", {"kind": "glued"}),
        ("tube_end_coped_onto_a_tube", {"kind": "coped"}),
        ("tube_end_coped_onto_a_tube", {"kind": "plate", "offset_um": 5}),
    ],
)
def test_an_end_that_cannot_be(check: str, fields: dict[str, Any]) -> None:
    with refused(check):
        TubeEndFactory(**fields)


def test_an_end_is_made_once_and_not_onto_its_own_tube() -> None:
    end = TubeEndFactory()
    with refused():
        TubeEndFactory(tube=end.tube)
    with refused("tube_end_not_onto_itself"):
        TubeEndFactory(tube=end.tube, which=2, kind="coped", onto=end.tube)


def test_a_bend_has_a_radius_and_a_number_of_its_own() -> None:
    with refused("bend_radius_positive"):
        BendFactory(radius_um=0)
    bend = BendFactory()
    with refused():
        BendFactory(tube=bend.tube)


def test_a_print_fit_mends_a_printer_and_makes_no_other_scale() -> None:
    with refused("print_fit_is_no_other_scale"):
        PrintFitFactory(across_ppm=500_000)
    with refused("print_fit_paper_is_paper"):
        PrintFitFactory(paper_um=2_000)


def test_a_frame_goes_with_its_build() -> None:
    end = TubeEndFactory()
    other = TubeFactory(frame=end.tube.frame)
    TubeEndFactory(tube=end.tube, which=2, kind="coped", onto=other)
    build = end.tube.frame.build
    build.delete()
    assert not type(end).objects.exists()
