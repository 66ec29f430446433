"""A mirrored pair has the same angles, its offset and twist turned round."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from fabshop.reckoning.frame import (
    EndFact,
    FrameFacts,
    TubeFact,
    mirror_faults,
    mirrored_twist,
    reckon_frame,
    twin_doubt,
)
from fabshop.reckoning.frame.mirror import mirrored

Point = tuple[float, float, float]


def pair(
    points: dict[str, Point], offset: float, *, twin_offset: float | None = None
) -> FrameFacts:
    """A rail on either side and a brace between, and the same across y = 0."""
    nodes = dict(points)
    for name, at in points.items():
        nodes[f"{name}'"] = mirrored(at, "y")
    tubes = []
    for side in ("", "'"):
        moved = offset if not side else -offset
        if side and twin_offset is not None:
            moved = twin_offset
        tubes += [
            TubeFact(f"m{side}", f"a{side}", f"b{side}", 12, 1),
            TubeFact(f"n{side}", f"c{side}", f"d{side}", 12, 1),
            TubeFact(
                f"t{side}",
                f"p{side}",
                f"q{side}",
                8,
                1,
                (EndFact("coped", f"m{side}", moved), EndFact("coped", f"n{side}")),
            ),
        ]
    return FrameFacts(nodes, tuple(tubes))


near = st.floats(-40, 40).map(lambda x: round(x, 2))


@given(near, near, near, near, st.floats(-1.9, 1.9))
@settings(deadline=None, max_examples=50)
def test_the_mirrored_tube_twists_the_other_way(
    x: float, y: float, z: float, w: float, offset: float
) -> None:
    assume(abs(y) + abs(w) > 5)
    points = {
        "a": (-100.0, 60.0 + y, 0.0),
        "b": (100.0, 60.0 - y, 0.0),
        "p": (0.0, 60.0, 0.0),
        "c": (x - 80, 90 + w, 120 + z),
        "d": (x + 80, 90 - w, 120 - z),
        "q": (x, 90.0, 120.0),
    }
    facts = pair(points, offset)
    frame = reckon_frame(facts)
    one, other = frame.tube("t"), frame.tube("t'")
    assume(not any(e.landed is None or e.landed.is_square for e in one.ends))
    assert one.twist_deg is not None
    assert other.twist_deg is not None
    assert other.twist_deg == pytest.approx(mirrored_twist(one.twist_deg), abs=1e-6)
    assert other.cut_mm == pytest.approx(one.cut_mm)
    assert mirror_faults(facts, one, other) == ()


POINTS: dict[str, Point] = {
    "a": (-100.0, 90.0, 0.0),
    "b": (100.0, 30.0, 0.0),
    "p": (0.0, 60.0, 0.0),
    "c": (-60.0, 90.0, 140.0),
    "d": (100.0, 90.0, 100.0),
    "q": (20.0, 90.0, 120.0),
}


def test_the_same_offset_on_both_sides_is_no_mirror() -> None:
    facts = pair(POINTS, 1.5, twin_offset=1.5)
    frame = reckon_frame(facts)
    faults = " ".join(mirror_faults(facts, frame.tube("t"), frame.tube("t'")))
    assert (
        "t is offset by 1.5 mm at p; mirrored that is -1.5, but t' has 1.5." in faults
    )


def test_tubes_that_do_not_lie_opposite_are_told() -> None:
    facts = pair(POINTS, 0)
    frame = reckon_frame(facts)
    assert mirror_faults(facts, frame.tube("t"), frame.tube("m'")) == (
        "t and m' do not lie opposite each other across y = 0.",
    )


def test_another_section_or_another_end_is_told() -> None:
    facts = pair(POINTS, 0)
    *rest, twin = facts.tubes
    thin = replace(twin, od_mm=6.0)
    changed = FrameFacts(facts.nodes, (*rest, thin))
    frame = reckon_frame(changed)
    told = " ".join(mirror_faults(changed, frame.tube("t"), frame.tube("t'")))
    assert "t is 8×1, t' is 6×1." in told
    square = replace(twin, ends=(EndFact(), twin.ends[1]))
    changed = FrameFacts(facts.nodes, (*rest, square))
    frame = reckon_frame(changed)
    told = " ".join(mirror_faults(changed, frame.tube("t"), frame.tube("t'")))
    assert "t is coped at p, t' is through at p'." in told


def test_two_of_the_same_hand_are_offered_the_mirror() -> None:
    assert twin_doubt(14, -14) == ""
    assert twin_doubt(0, 0) == ""
    assert twin_doubt(180, 180) == ""
    assert twin_doubt(14, 14) == (
        "Both twist by 14°: that makes two of the same hand. "
        "The mirrored tube twists by -14°. Mirror it?"
    )
    assert twin_doubt(14, -22) == (
        "One twists by 14°, its twin by -22°; mirrored it would be -14°."
    )
