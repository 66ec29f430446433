"""A frame comes across in millimetres, in as many queries whatever its size."""

from __future__ import annotations

from typing import Any

import pytest

from fabshop.reckoning.frame import BendFact, EndFact
from fabshop.snapshot.frame import frame_facts
from tests.factories import (
    BendFactory,
    FrameFactory,
    NodeFactory,
    TubeEndFactory,
    TubeFactory,
)

pytestmark = pytest.mark.django_db


def test_nodes_tubes_ends_and_bends_come_across() -> None:
    frame = FrameFactory(mirror="x")
    node = NodeFactory(frame=frame, code="K", x_um=1_500, y_um=-2_250, z_um=7)
    rail = TubeFactory(frame=frame, mark="rail", material="304", density_kgm3=7900)
    hoop = TubeFactory(frame=frame, mark="hoop", twin=rail)
    BendFactory(tube=hoop, node=node, radius_um=40_000)
    TubeEndFactory(
        tube=hoop,
        which=2,
        kind="coped",
        onto=rail,
        offset_um=-1_250,
        typed_mdeg=62_500,
        joint="J01",
    )
    TubeEndFactory(tube=rail, which=1, past_um=3_000)
    facts = frame_facts(frame)
    assert facts.mirror == "x"
    assert facts.nodes["K"] == (1.5, -2.25, 0.007)
    fact = facts.tube_by_mark["hoop"]
    assert (fact.od_mm, fact.wall_mm, fact.twin) == (8, 0.9, "rail")
    assert fact.bends == (BendFact("K", 40),)
    assert fact.ends == (
        EndFact(),
        EndFact("coped", "rail", -1.25, typed_deg=62.5, joint="J01"),
    )
    assert facts.tube_by_mark["rail"].ends[0].past_mm == 3
    assert facts.tube_by_mark["rail"].density == 7.9
    assert frame_facts(FrameFactory(mirror="z")).mirror == "z"


def test_what_nobody_typed_weighs_as_its_material_is_published() -> None:
    frame = FrameFactory()
    TubeFactory(frame=frame, mark="a", material="ti-9")
    TubeFactory(frame=frame, mark="b", material="bone")
    tubes = frame_facts(frame).tube_by_mark
    assert tubes["a"].density == 4.48
    assert tubes["b"].density is None


def test_a_large_frame_asks_no_more_often(django_assert_num_queries: Any) -> None:
    for size in (1, 12):
        frame = FrameFactory()
        for _ in range(size):
            tube = TubeFactory(frame=frame)
            other = TubeFactory(frame=frame)
            TubeEndFactory(tube=tube, which=1, kind="coped", onto=other)
            BendFactory(tube=tube)
        with django_assert_num_queries(6):
            frame_facts(frame)
