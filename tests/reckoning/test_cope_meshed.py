"""Copes against two tubes cut from each other as meshes, over random ones."""

from __future__ import annotations

from math import cos, radians, sin
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fabshop.reckoning.cope import cope, reach_mm
from fabshop.reckoning.questions.cope import cope_question
from tests.reckoning.meshed import tube_cut_by

FAR = 400.0


@given(
    st.floats(3, 20),
    st.floats(0.1, 0.9),
    st.floats(1.02, 3),
    st.floats(22, 90),
    st.floats(-0.95, 0.95),
)
@settings(deadline=None, max_examples=25)
def test_skin_and_bore_meet_the_main_where_the_mesh_does(
    r: float, wall_share: float, times: float, angle: float, aside: float
) -> None:
    big = r * times
    wall, offset = r * wall_share, aside * (big - r)
    mesh = _cut(r, wall, big, angle, offset)
    # The branch stands on z from the crossing; the acute side is x, its 90 mark y.
    edge = mesh.vertices[mesh.vertices[:, 2] < FAR - 1]
    radius = np.hypot(edge[:, 0], edge[:, 1])
    at = np.degrees(np.arctan2(edge[:, 1], edge[:, 0]))
    for skin in (r, r - wall):
        on_skin = np.abs(radius - skin) < 2e-4 * skin
        assert on_skin.sum() >= 360
        expected = [
            reach_mm(a, skin_mm=skin, main_mm=big, angle_deg=angle, offset_mm=offset)
            for a in at[on_skin]
        ]
        # 360 flats for a circle: heights differ by what a flat lies inside it.
        off = np.abs(edge[on_skin, 2] - expected)
        slack = 3e-3 * big / sin(radians(angle))
        steep = np.sqrt(max(1e-9, 1 - ((abs(offset) + skin) / big) ** 2))
        assert np.median(off) < slack
        assert off.max() < slack / max(steep, 0.05)


@given(
    st.floats(3, 20),
    st.floats(0.1, 0.9),
    st.floats(1.0, 3),
    st.floats(22, 90),
    st.floats(-1, 1),
)
@settings(deadline=None, max_examples=25)
def test_what_is_left_of_the_wall_is_what_the_mesh_leaves(
    r: float, wall_share: float, times: float, angle: float, aside: float
) -> None:
    big = r * times
    wall, offset = r * wall_share, aside * (big - r)
    mesh = _cut(r, wall, big, angle, offset)
    total = 0.0
    nodes, weights = np.polynomial.legendre.leggauss(8)
    for node, weight in zip(nodes, weights, strict=True):
        skin = r - wall / 2 + node * wall / 2
        ring = np.mean(
            [
                FAR
                - reach_mm(
                    a, skin_mm=skin, main_mm=big, angle_deg=angle, offset_mm=offset
                )
                for a in range(360)
            ]
        )
        total += weight * wall / 2 * 2 * np.pi * skin * ring
    assert mesh.volume == pytest.approx(total, rel=5e-4)


def _cut(r: float, wall: float, big: float, angle: float, offset: float) -> Any:
    """A branch up z, cut by a main leaning `angle` from it towards +x.

    The main passes the crossing at -`offset` in y, so that the branch lies `offset`
    from it towards +y, its 90 mark.
    """
    a = radians(angle)
    lean = np.array([sin(a), 0.0, cos(a)])
    middle = np.array([0.0, -offset, 0.0])
    length = 10 * big / sin(a)
    main = (tuple(middle - lean * length), tuple(middle + lean * length), 2 * big)
    return tube_cut_by(((0, 0, 0), (0, 0, FAR), 2 * r, wall), [main])


def test_cut_is_the_larger_and_dial_the_complement_of_any_cope() -> None:
    question = {"branch": {"od": 8, "wall": 1}, "main": {"od": 8}, "angle": 38.9}
    answer = cope(cope_question(question))
    assert answer["dial"] == pytest.approx(51.1)
    assert all(p["cut"] == max(p["outer"], p["inner"]) for p in answer["profile"])
    # The bore touches first at the flanks, the skin on the acute side.
    flank, acute = answer["profile"][18], answer["profile"][0]
    assert flank["inner"] > flank["outer"]
    assert acute["outer"] > acute["inner"]
