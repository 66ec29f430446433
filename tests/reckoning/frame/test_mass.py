"""Masses of tubes against published sections and against meshes cut as they are."""

from __future__ import annotations

import numpy as np
import pytest

from fabshop.reckoning.frame import (
    BendFact,
    EndFact,
    FrameFacts,
    TubeFact,
    reckon_frame,
)
from tests.reckoning.meshed import tube_cut_by


# g/m from density and section, m = ρ π/4 (OD² − ID²) L, computed elsewhere.
@pytest.mark.parametrize(
    ("od", "wall", "density", "grams"),
    [
        (38.1, 0.9, 4.48, 471.21),
        (25.4, 0.889, 7.85, 537.38),
        (25.4, 3.175, 2.70, 598.55),
    ],
)
def test_a_metre_of_tube(od: float, wall: float, density: float, grams: float) -> None:
    tube = TubeFact("T", "A", "B", od, wall, density=density)
    frame = reckon_frame(FrameFacts({"A": (0, 0, 0), "B": (0, 1000, 0)}, (tube,)))
    assert frame.mass_g == pytest.approx(grams, abs=0.01)
    assert frame.centre == pytest.approx((0, 500, 0))


# Volume of a 6.0 × 0.9 tube to 30 mm from the crossing, cut as meshes of 720 facets.
@pytest.mark.parametrize(
    ("main", "angle", "volume"),
    [
        (6, 90, 399.428),
        (6, 60, 394.2967),
        (6, 45, 385.6889),
        (8, 90, 381.5808),
        (8, 60, 373.6885),
    ],
)
def test_a_coped_tube_holds_what_the_mesh_holds(
    main: float, angle: float, volume: float
) -> None:
    a = np.radians(angle)
    nodes = {
        "L": (-50.0, 0.0, 0.0),
        "R": (50.0, 0.0, 0.0),
        "O": (0.0, 0.0, 0.0),
        "P": (30 * float(np.cos(a)), 0.0, 30 * float(np.sin(a))),
    }
    tubes = (
        TubeFact("M", "L", "R", main, 0.9),
        TubeFact("B", "O", "P", 6, 0.9, (EndFact("coped", "M"), EndFact())),
    )
    solid = reckon_frame(FrameFacts(nodes, tubes)).tube("B").solid
    assert solid is not None
    assert solid.volume_mm3 == pytest.approx(volume, rel=3e-4)


def test_the_centre_of_a_tube_coped_at_both_ends_is_that_of_its_mesh() -> None:
    nodes = {
        "L": (-50.0, 0.0, 0.0),
        "R": (50.0, 0.0, 0.0),
        "O": (0.0, 0.0, 0.0),
        "P": (25.0, 0.0, 40.0),
        "S": (25.0, -50.0, 40.0),
        "T": (25.0, 50.0, 40.0),
    }
    tubes = (
        TubeFact("M", "L", "R", 12, 1),
        TubeFact("N", "S", "T", 10, 1),
        TubeFact("B", "O", "P", 8, 1.5, (EndFact("coped", "M"), EndFact("coped", "N"))),
    )
    tube = reckon_frame(FrameFacts(nodes, tubes)).tube("B")
    mesh = tube_cut_by(
        ((0, 0, 0), (25, 0, 40), 8, 1.5),
        [((-50, 0, 0), (50, 0, 0), 12), ((25, -50, 40), (25, 50, 40), 10)],
    )
    assert tube.solid is not None
    assert tube.solid.volume_mm3 == pytest.approx(mesh.volume, rel=1e-3)
    assert tube.solid.centre == pytest.approx(tuple(mesh.center_mass), abs=0.01)


def test_a_bent_tube_weighs_its_developed_length() -> None:
    nodes = {"A": (0.0, 0.0, 0.0), "K": (100.0, 0.0, 0.0), "B": (100.0, 100.0, 0.0)}
    tube = TubeFact("T", "A", "B", 10, 1, bends=(BendFact("K", 40),), density=4.51)
    frame = reckon_frame(FrameFacts(nodes, (tube,)))
    length = 120 + 20 * np.pi
    assert frame.tube("T").cut_mm == pytest.approx(length)
    assert frame.mass_g == pytest.approx(4.51e-3 * np.pi * (25 - 16) * length)
