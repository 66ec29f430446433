"""Copes against the exact identities and the mesh-cut ordinates of two tubes."""

from __future__ import annotations

from math import cos, radians, sin, sqrt, tan
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fabshop.reckoning.cope import cope
from fabshop.reckoning.questions.cope import cope_question


def asked(od: float, wall: float, main: float, angle: float, **more: Any) -> Any:
    question = {"branch": {"od": od, "wall": wall}, "main": {"od": main}}
    return cope(cope_question({**question, "angle": angle, **more}))


# Boolean intersection of two tubes as meshes of 720 facets, agreement 1.3e-4 mm;
# branch 6.0 x 0.9, at 0, 45, 90, 135, 180 degrees from the acute side.
MESHED = [
    (6, 90, [3.0, 2.12132, 0, 2.12132, 3.0], [3.0, 2.60672, 2.14243, 2.60672, 3.0]),
    (
        6,
        60,
        [5.19615, 3.67423, 0, 1.22474, 1.73205],
        [4.67654, 3.8673, 2.47386, 2.15266, 2.25167],
    ),
    (
        6,
        45,
        [7.24264, 5.12132, 0, 0.87868, 1.24264],
        [6.34264, 5.17139, 3.02985, 2.20154, 2.14264],
    ),
    (
        8,
        90,
        [4.0, 3.39116, 2.64575, 3.39116, 4.0],
        [4.0, 3.71416, 3.40441, 3.71416, 4.0],
    ),
    (
        8,
        60,
        [6.35085, 5.14052, 3.05505, 2.69104, 2.88675],
        [5.83124, 5.14607, 3.93107, 3.43142, 3.40637],
    ),
]


@pytest.mark.parametrize(("main", "angle", "outer", "inner"), MESHED)
def test_the_profile_agrees_with_two_tubes_cut_as_meshes(
    main: float, angle: float, outer: list[float], inner: list[float]
) -> None:
    answer = asked(6, 0.9, main, angle, samples=8)
    half = answer["profile"][:5]
    assert [point["outer"] for point in half] == pytest.approx(outer, abs=2e-4)
    assert [point["inner"] for point in half] == pytest.approx(inner, abs=2e-4)
    for point in half:
        assert point["cut"] == max(point["outer"], point["inner"])


# Ordinates every 30 degrees from the obtuse side, computed by an independent
# ray-to-cylinder bisection (difference at most 2.6e-7 mm).
RAYS = [
    (19.05, 19.05, 90, [19.05, 16.498, 9.525, 0, 9.525, 16.498, 19.05]),
    (15.875, 19.05, 90, [19.05, 17.318, 13.187, 10.53, 13.187, 17.318, 19.05]),
    (15.875, 19.05, 60, [12.832, 12.059, 10.644, 12.159, 19.809, 27.934, 31.162]),
    (12.7, 19.05, 90, [19.05, 17.961, 15.554, 14.199, 15.554, 17.961, 19.05]),
]


@pytest.mark.parametrize(("r", "big", "angle", "ordinates"), RAYS)
def test_the_outer_skin_agrees_with_rays_shot_at_the_main_tube(
    r: float, big: float, angle: float, ordinates: list[float]
) -> None:
    profile = asked(2 * r, 1, 2 * big, angle, samples=12)["profile"]
    from_obtuse = [profile[(6 - number) % 12]["outer"] for number in range(7)]
    assert from_obtuse == pytest.approx(ordinates, abs=6e-4)


@given(st.floats(21, 90), st.floats(2, 40))
def test_equal_tubes_follow_the_half_angle_identities(angle: float, r: float) -> None:
    # r cot(a/2) on the acute side, r tan(a/2) on the obtuse, 0 between them
    # (two plane ellipses: the Steinmetz curve of equal radii).
    answer = asked(2 * r, r / 4, 2 * r, angle, samples=4)
    at_0, at_90, at_180, _ = (point["outer"] for point in answer["profile"])
    half = radians(angle) / 2
    assert at_0 == pytest.approx(r / tan(half), abs=2e-5)
    assert at_90 == pytest.approx(0, abs=2e-5)
    assert at_180 == pytest.approx(r * tan(half), abs=2e-5)


@given(st.floats(15, 90), st.floats(2, 20), st.floats(1.0, 3.0))
def test_extremes_are_the_exact_ones_over_the_full_turn(
    angle: float, r: float, times: float
) -> None:
    big = r * times
    answer = asked(2 * r, r / 4, 2 * big, angle)
    a = radians(angle)
    assert answer["longest"] == pytest.approx((big + r * cos(a)) / sin(a), abs=2e-4)
    rest = sqrt(big**2 - r**2)
    shortest = rest if tan(a) >= rest / r else (big - r * cos(a)) / sin(a)
    assert answer["shortest"] == pytest.approx(shortest, abs=2e-4)


def test_the_worked_example_of_the_format() -> None:
    answer = asked(6, 0.9, 8, 60)
    assert answer["dial"] == 30.0
    assert answer["longest"] == pytest.approx(6.351, abs=5e-4)
    assert answer["shortest"] == pytest.approx(2.646, abs=5e-4)
    assert len(answer["profile"]) == 72


def test_an_offset_moves_the_branch_towards_its_own_90_mark() -> None:
    profile = asked(6, 0.9, 8, 90, offset=0.5, samples=4)["profile"]
    assert profile[1]["outer"] == pytest.approx(sqrt(16 - 3.5**2), abs=1e-5)
    assert profile[3]["outer"] == pytest.approx(sqrt(16 - 2.5**2), abs=1e-5)


def test_the_dial_is_set_from_square() -> None:
    # Common practice: drawn at 64.76 degrees, set at 25.24.
    assert asked(6, 0.9, 8, 64.76)["dial"] == 25.24
