"""Frames against solids known exactly, and random ones against numpy's algebra."""

from __future__ import annotations

from math import acos, atan, cos, degrees, hypot, radians, sqrt, tan

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from fabshop.reckoning.frame import (
    BendFact,
    EndFact,
    FrameFacts,
    TubeFact,
    reckon_frame,
)

OD, WALL = 8.0, 0.9


def onto(mark: str, offset: float = 0.0, typed: float | None = None) -> EndFact:
    return EndFact("coped", mark, offset, typed_deg=typed)


def tube(mark: str, ends: str, *made: EndFact, od: float = OD) -> TubeFact:
    first, last = [*made, EndFact(), EndFact()][:2]
    return TubeFact(mark, ends[0], ends[1], od, WALL, (first, last))


TETRAHEDRON = {
    "A": (100.0, 100.0, 100.0),
    "B": (100.0, -100.0, -100.0),
    "C": (-100.0, 100.0, -100.0),
    "D": (-100.0, -100.0, 100.0),
}


def test_the_edges_of_a_regular_tetrahedron() -> None:
    # Edges meet at 60 degrees, faces at arccos(1/3) = 70.5288 degrees.
    facts = FrameFacts(
        TETRAHEDRON,
        (
            tube("AC", "AC"),
            tube("BD", "BD"),
            tube("AB", "AB", onto("AC"), onto("BD")),
        ),
    )
    edge = reckon_frame(facts).tube("AB")
    assert [end.landed.angle_deg for end in edge.ends if end.landed] == pytest.approx(
        [60, 60]
    )
    assert edge.twist_deg is not None
    assert abs(edge.twist_deg) == pytest.approx(degrees(acos(1 / 3)))
    assert edge.between_mm == pytest.approx(200 * sqrt(2))
    # Equal tubes at 60 degrees reach down to the crossing at their flanks.
    assert edge.cut_mm == pytest.approx(200 * sqrt(2), abs=1e-4)


def test_the_twist_is_the_same_number_from_either_end() -> None:
    ends = (onto("AC"), onto("BD"))
    mains = (tube("AC", "AC"), tube("BD", "BD"))
    one = FrameFacts(TETRAHEDRON, (*mains, tube("T", "AB", *ends)))
    other = FrameFacts(TETRAHEDRON, (*mains, tube("T", "BA", *ends[::-1])))
    twist = reckon_frame(one).tube("T").twist_deg
    assert twist is not None
    assert reckon_frame(other).tube("T").twist_deg == pytest.approx(twist)


CUBE = {
    "O": (0.0, 0.0, 0.0),
    "X": (100.0, 0.0, 0.0),
    "Y": (0.0, 100.0, 0.0),
    "Z": (0.0, 0.0, 100.0),
    "P": (100.0, 100.0, 0.0),
    "Q": (100.0, 100.0, 100.0),
}


def test_the_diagonals_of_a_cube() -> None:
    # Face diagonal to edge 45, space diagonal to edge arccos(1/sqrt 3) = 54.7356,
    # to face diagonal arccos(sqrt(2/3)) = 35.2644; edges lie 120 apart round it.
    facts = FrameFacts(
        CUBE,
        (
            tube("x", "OX", od=10),
            tube("z", "PQ", od=10),
            tube("f", "OP", onto("x")),
            tube("s", "OQ", onto("x"), onto("z")),
            tube("t", "OQ", onto("f")),
        ),
    )
    frame = reckon_frame(facts)

    def angle(mark: str, which: int) -> float:
        landed = frame.tube(mark).ends[which].landed
        assert landed is not None
        return landed.angle_deg

    assert angle("f", 0) == pytest.approx(45)
    assert angle("s", 0) == pytest.approx(degrees(acos(1 / sqrt(3))))
    assert angle("s", 1) == pytest.approx(degrees(acos(1 / sqrt(3))))
    assert angle("t", 0) == pytest.approx(degrees(acos(sqrt(2 / 3))))
    space = frame.tube("s")
    assert space.between_mm == pytest.approx(100 * sqrt(3))
    # Seen along OQ, x and the way down z (acute at Q) lie 60 apart.
    assert space.twist_deg is not None
    assert abs(space.twist_deg) == pytest.approx(60)


@pytest.mark.parametrize("pitch", [25.0, 30.0, 41.2])
def test_a_gabled_frame(pitch: float) -> None:
    # Tie beam of 200, ridge over its middle; rafters, king post and a ridge bar.
    rise = 100 * tan(radians(pitch))
    nodes = {
        "L": (-100.0, 0.0, 0.0),
        "R": (100.0, 0.0, 0.0),
        "M": (0.0, 0.0, 0.0),
        "K": (0.0, 0.0, rise),
        "E": (0.0, 300.0, rise),
    }
    facts = FrameFacts(
        nodes,
        (
            tube("tie", "LR", od=10),
            tube("ridge", "KE", od=10),
            tube("left", "LK", onto("tie"), onto("ridge")),
            tube("right", "RK", onto("tie"), onto("ridge")),
            tube("post", "MK", onto("tie"), onto("ridge")),
        ),
    )
    frame = reckon_frame(facts)
    left, post = frame.tube("left"), frame.tube("post")
    assert [end.landed.angle_deg for end in left.ends if end.landed] == pytest.approx(
        [pitch, 90]
    )
    assert left.between_mm == pytest.approx(100 / cos(radians(pitch)))
    assert left.ends[0].acute_to == "R"
    assert post.between_mm == pytest.approx(rise)
    # Tie and ridge cross at right angles, so their copes stand a quarter apart.
    assert abs(left.twist_deg or 0) == pytest.approx(90)
    assert abs(post.twist_deg or 0) == pytest.approx(90)
    # Square onto a 10 tube an 8 tube begins at sqrt(5² - 4²) = 3 from its middle.
    assert post.cut_mm == pytest.approx(rise - 3 - 3, abs=1e-4)
    assert any("run into each other at K" in note for note in left.said)


coordinate = st.floats(-200, 200).map(lambda x: round(x, 3))
point = st.tuples(coordinate, coordinate, coordinate)


@given(point, point, point, point, st.floats(-3, 3), st.floats(-3, 3), st.data())
@settings(deadline=None, max_examples=60)
def test_random_frames_agree_with_numpy(
    a: tuple[float, float, float],
    b: tuple[float, float, float],
    c: tuple[float, float, float],
    d: tuple[float, float, float],
    e: float,
    f: float,
    data: st.DataObject,
) -> None:
    """A tube between the middles of two others, both ends with an offset."""
    A, B, C, D = (np.array(p) for p in (a, b, c, d))
    assume(min(np.linalg.norm(B - A), np.linalg.norm(D - C)) > 100)
    P, Q = (A + B) / 2, (C + D) / 2
    assume(np.linalg.norm(Q - P) > 120)
    m, n = (B - A) / np.linalg.norm(B - A), (D - C) / np.linalg.norm(D - C)
    way = (Q - P) / np.linalg.norm(Q - P)
    assume(all(0.02 < abs(way @ v) < 0.9 for v in (m, n)))
    nodes = {"A": a, "B": b, "C": c, "D": d, "P": tuple(P), "Q": tuple(Q)}
    facts = FrameFacts(
        nodes,
        (
            tube("m", "AB", od=20),
            tube("n", "CD", od=20),
            tube("t", "PQ", onto("m", e), onto("n", f)),
        ),
    )
    branch = reckon_frame(facts).tube("t")
    assert branch.axis is not None
    start, end = (np.array(p) for p in (branch.axis.first.start, branch.axis.last.end))
    u = (end - start) / np.linalg.norm(end - start)
    for base, main, at, out, offset, made in (
        (A, m, start, u, e, branch.ends[0]),
        (C, n, end, -u, f, branch.ends[1]),
    ):
        assert made.landed is not None
        # Two lines are nearest along their common normal.
        normal = np.cross(out, main) / np.linalg.norm(np.cross(out, main))
        gap = (at - base) @ normal
        assert abs(gap) == pytest.approx(abs(offset), abs=1e-7)
        foot = base + main * ((at - base) @ main)
        assert np.linalg.norm(at - foot) == pytest.approx(abs(offset), abs=1e-7)
        # The offset goes towards the 90 mark: along × acute.
        acute = np.array(made.landed.acute)
        assert (at - foot) @ np.cross(out, acute) == pytest.approx(offset, abs=1e-7)
        assert made.landed.angle_deg == pytest.approx(
            degrees(acos(abs(out @ main))), abs=1e-6
        )
        # On the acute side the main runs away with the tube.
        assert acute @ main * np.sign(out @ main) > 0
    one, other = (np.array(end.landed.acute) for end in branch.ends if end.landed)
    twist = degrees(np.arctan2(np.cross(one, other) @ u, one @ other))
    assert branch.twist_deg == pytest.approx(twist, abs=1e-6)
    assert branch.between_mm == pytest.approx(np.linalg.norm(end - start))
    # Long point to long point, by shooting every thread of the skin at both mains.
    turn = data.draw(st.floats(0, 1))
    lowest = _threads(start, u, A, m, turn)
    highest = _threads(end, -u, C, n, turn)
    assert branch.cut_mm is not None
    cut = np.linalg.norm(end - start) - lowest - highest
    assert branch.cut_mm == pytest.approx(cut, abs=2e-3)


def _threads(
    at: np.ndarray, u: np.ndarray, base: np.ndarray, m: np.ndarray, turn: float
) -> float:
    """Least distance from `at` at which the skin of the tube leaves the main."""
    side = np.cross(u, m) / np.linalg.norm(np.cross(u, m))
    other = np.cross(u, side)
    angles = 2 * np.pi * (np.arange(2000) + turn) / 2000
    starts = at + OD / 2 * (
        np.cos(angles)[:, None] * side + np.sin(angles)[:, None] * other
    )
    # |(p + s u - base) × m| = R is a quadratic in s; its larger root is the way out.
    k, p = np.cross(u, m), np.cross(starts - base, m)
    qa, qb, qc = k @ k, 2 * (p @ k), (p * p).sum(axis=1) - 10.0**2
    return float(((-qb + np.sqrt(qb**2 - 4 * qa * qc)) / (2 * qa)).min())


def test_what_is_not_computed_is_said() -> None:
    nodes = {
        "A": (0.0, 0.0, 0.0),
        "B": (100.0, 0.0, 0.0),
        "C": (50.0, 0.0, 60.0),
        "D": (50.0, 0.0, 0.0),
        "E": (50.0, 20.0, 0.0),
        "F": (20.0, 0.0, 60.0),
    }
    facts = FrameFacts(
        nodes,
        (
            tube("M", "AB"),
            tube("plate", "DC", EndFact("plate")),
            tube("wide", "DC", onto("M"), od=10),
            tube("side", "DC", onto("M", 2.0), od=6),
            tube("far", "EC", onto("M")),
            tube("alone", "FC", onto("nobody")),
            tube("along", "DB", onto("M"), od=6),
            tube("p", "DF", onto("q")),
            tube("q", "DC", onto("p")),
        ),
    )
    frame = reckon_frame(facts)

    def said(mark: str) -> str:
        return " ".join(frame.tube(mark).said)

    assert "plate at D is not computed: a tube onto a plate has no cope." in said(
        "plate"
    )
    assert "wide at D wraps past the mate: it reaches 1.00 mm beyond" in said("wide")
    assert "side at D wraps past the mate: it reaches 1.00 mm beyond" in said("side")
    assert "far at E does not meet M: the node lies 20.0 mm from" in said("far")
    assert "alone at F: nothing is said of what it lands on." in said("alone")
    assert "along at D is not computed: it runs along M." in said("along")
    assert "p at D is coped onto q, and q onto p. Say which" in said("p")
    assert all(frame.tube(mark).cut_mm is None for mark in ("plate", "wide", "far"))
    assert "wide" in frame.unknown


def test_an_end_runs_on_as_far_as_what_lands_on_it_needs() -> None:
    nodes = {"A": (0.0, 0.0, 0.0), "B": (100.0, 0.0, 0.0), "C": (0.0, 0.0, 90.0)}
    post = tube("P", "AC", onto("M"), od=6)
    free = reckon_frame(FrameFacts(nodes, (tube("M", "AB"), post)))
    # A post of 6 square at the very end needs its own radius beyond the node.
    assert free.tube("M").ends[0].past_mm == pytest.approx(3)
    assert free.tube("M").cut_mm == pytest.approx(103)
    short = TubeFact("M", "A", "B", OD, WALL, (EndFact(past_mm=1.0), EndFact()))
    told = reckon_frame(FrameFacts(nodes, (short, post))).tube("M")
    assert told.said == ("P lands 2.0 mm past the end of M at A: let it run on.",)


def test_a_typed_angle_that_is_the_dial_s_is_asked_about() -> None:
    nodes = {
        "A": (0.0, 0.0, 0.0),
        "B": (100.0, 0.0, 0.0),
        "C": (50.0, 0.0, 0.0),
        "D": (50 + 90 / tan(radians(65)), 0.0, 90.0),
    }
    branch = tube("T", "CD", onto("M", typed=25), od=6)
    frame = reckon_frame(FrameFacts(nodes, (tube("M", "AB"), branch)))
    assert frame.tube("T").said == (
        "T at C: 25° was typed, the frame says 65.0°, and 25 is what the dial reads "
        "for 65. Angle between, or dial?",
    )


def test_a_feather_edge_is_warned_of() -> None:
    nodes = {
        "A": (0.0, 0.0, 0.0),
        "B": (300.0, 0.0, 0.0),
        "C": (50.0, 0.0, 0.0),
        "D": (200.0, 0.0, 50.0),
    }
    frame = reckon_frame(
        FrameFacts(nodes, (tube("M", "AB"), tube("T", "CD", onto("M"), od=6)))
    )
    assert degrees(atan(50 / 150)) < 20
    assert "feather edge" in frame.tube("T").said[0]


def test_a_branch_on_a_bend_and_a_cope_into_a_bend_are_not_computed() -> None:
    nodes = {
        "A": (0.0, 0.0, 0.0),
        "K": (100.0, 0.0, 0.0),
        "B": (100.0, 100.0, 0.0),
        "N": (100.0, 0.0, 0.0),
        "U": (100.0, 0.0, 80.0),
    }
    hoop = TubeFact("H", "A", "B", OD, WALL, bends=(BendFact("K", 60),))
    frame = reckon_frame(FrameFacts(nodes, (hoop, tube("P", "NU", onto("H"), od=6))))
    assert frame.tube("P").said == ("P at N is not computed: it lands on a bend of H.",)
    tight = TubeFact("H", "A", "B", OD, WALL, bends=(BendFact("K", 120),))
    frame = reckon_frame(FrameFacts(nodes, (tight,)))
    assert "straight 1 is 100.0 mm and its bends take 120.0" in frame.tube("H").said[0]
    assert frame.unknown == ("H",)


def test_a_bent_tube_twists_as_the_straight_one_it_is_bent_from() -> None:
    # Both mains stand square to the plane of the bend, so one scribed line serves both.
    nodes = {
        "A": (0.0, 0.0, 0.0),
        "K": (100.0, 0.0, 0.0),
        "B": (100.0, 100.0, 0.0),
        "a": (-20.0, 0.0, 50.0),
        "b": (20.0, 0.0, -50.0),
        "c": (100.0, 80.0, 50.0),
        "d": (100.0, 120.0, -50.0),
    }
    hoop = TubeFact(
        "H", "A", "B", OD, WALL, (onto("m"), onto("n")), (BendFact("K", 40),)
    )
    mains = (tube("m", "ab", od=10), tube("n", "cd", od=10))
    frame = reckon_frame(FrameFacts(nodes, (*mains, hoop)))
    made = frame.tube("H")
    # Acute at A is down, at B up: half a turn about the tube.
    assert abs(made.twist_deg or 0) == pytest.approx(180)
    assert made.between_mm == pytest.approx(120 + 20 * np.pi)


def test_sections_add_up_what_is_to_be_cut() -> None:
    nodes = {"A": (0.0, 0.0, 0.0), "B": (100.0, 0.0, 0.0), "C": (0.0, 60.0, 80.0)}
    tubes = (
        TubeFact("S", "A", "B", 8, 0.9, material="Ti-3Al-2.5V", density=4.48),
        TubeFact("T", "A", "C", 8, 0.9, material="Ti-3Al-2.5V", density=4.48),
        TubeFact("U", "B", "C", 6, 0.9, material="unknown"),
    )
    frame = reckon_frame(FrameFacts(nodes, tubes))
    first, second = frame.sections
    assert (first.section, first.count, first.cut_mm) == ("8×0.9", 2, 200)
    assert first.mass_g == pytest.approx(4.48e-3 * np.pi * (16 - 3.1**2) * 200)
    assert second.mass_g is None
    assert frame.unknown == ("U",)
    assert second.cut_mm == pytest.approx(hypot(100, 60, 80))
