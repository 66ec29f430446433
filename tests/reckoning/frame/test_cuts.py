"""What the saw is told of a frame."""

from __future__ import annotations

from math import radians, tan

import pytest

from fabshop.reckoning.frame import (
    EndFact,
    FrameFacts,
    TubeFact,
    frame_cuts,
    reckon_frame,
)


def test_each_piece_comes_with_its_length_dials_twist_and_joints() -> None:
    nodes = {
        "A": (0.0, 0.0, 0.0),
        "B": (100.0, 0.0, 0.0),
        "C": (40.0, 0.0, 0.0),
        "D": (40 + 90 / tan(radians(60)), 0.0, 90.0),
    }
    end = EndFact("coped", "rail", joint="J01")
    tubes = (
        TubeFact("post", "C", "D", 6, 0.9, (end, EndFact()), material="304"),
        TubeFact("rail", "A", "B", 8, 1, material="304"),
        TubeFact("plated", "A", "D", 6, 1, (EndFact("plate"), EndFact())),
    )
    post, rail = sorted(
        frame_cuts(reckon_frame(FrameFacts(nodes, tubes))), key=lambda c: -c.length_mm
    )
    assert (rail.mark, rail.section, rail.length_mm) == ("rail", "8×1", 100)
    assert rail.ends[0].angle_deg is None
    assert post.ends[0].angle_deg == pytest.approx(60)
    assert post.ends[0].dial_deg == pytest.approx(30)
    assert (post.ends[0].onto, post.ends[0].joint) == ("rail", "J01")
    assert post.twist_deg is None
