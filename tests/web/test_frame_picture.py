"""Pictures are right-handed, fit the phone, and show a cope as seen from outside."""

from __future__ import annotations

import re

from fabshop.reckoning.frame import (
    BendFact,
    EndFact,
    FrameFacts,
    TubeFact,
    reckon_frame,
)
from fabshop.reckoning.wrap import CopeEnd, Template, strips
from fabshop.web.frame_picture import cope_picture, frame_picture, on_paper


def test_x_runs_down_right_y_up_right_and_z_up() -> None:
    (x, x_down), (y, y_down), (z, z_down) = (
        on_paper(axis) for axis in ((1, 0, 0), (0, 1, 0), (0, 0, 1))
    )
    assert x > 0 < x_down
    assert y > 0 > y_down
    assert z == 0 > z_down


def test_every_tube_and_node_is_in_the_picture() -> None:
    nodes = {"A": (0.0, 0.0, 0.0), "B": (90.0, 0.0, 0.0), "K": (90.0, 0.0, 70.0)}
    tubes = (
        TubeFact("t", "A", "B", 8, 1),
        TubeFact("bent", "A", "K", 8, 1, bends=(BendFact("B", 20),)),
        TubeFact("broken", "A", "K", 8, 1, bends=(BendFact("B", 500),)),
        TubeFact("lost", "B", "K", 8, 1, (EndFact("coped", "nobody"), EndFact())),
    )
    facts = FrameFacts(nodes, tubes)
    picture = frame_picture(nodes, reckon_frame(facts))
    assert picture is not None
    assert [tube.mark for tube in picture.tubes] == ["t", "bent", "broken", "lost"]
    for tube in picture.tubes:
        numbers = [float(n) for n in re.findall(r"-?[\d.]+", tube.path)]
        assert all(0 <= x <= picture.width for x in numbers[::2])
        assert all(0 <= y <= picture.height for y in numbers[1::2])
    assert len(picture.nodes) == 3


def test_nothing_drawn_has_no_picture() -> None:
    assert frame_picture({}, reckon_frame(FrameFacts({}, ()))) is None


def test_a_cope_is_highest_cut_in_the_middle_of_its_acute_side() -> None:
    (strip,) = strips(Template(8, 0.9, (CopeEnd(8, 50),)))
    picture = cope_picture(strip)
    ends = re.findall(r"[ML]([\d.]+) ([\d.]+)", picture.cut)
    heights = [float(y) for _, y in ends]
    # The kept tube lies above: the longest reach, at 0 and 360, stands highest.
    assert heights[0] == heights[-1] == min(heights)
    assert [at for at, _ in picture.ticks] == [0, 90, 180, 270, 360]
    assert max(heights) < picture.height
