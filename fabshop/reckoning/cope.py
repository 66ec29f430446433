"""The cope of one round tube onto another, as lengths along the branch."""

from __future__ import annotations

from math import cos, pi, radians, sin, sqrt
from typing import Any

from fabshop.reckoning.questions.cope import CopeQuestion

# A hundredth of a micrometre: finer than any saw and coarser than rounding noise.
_DECIMALS = 5


def reach_mm(
    at_deg: float, *, skin_mm: float, main_mm: float, angle_deg: float, offset_mm: float
) -> float:
    """How far from the crossing of the axes a skin of the branch meets the main.

    `at_deg` counts round the branch from its acute side; `skin_mm` is the radius of
    the outer skin or of the bore, `main_mm` the radius of the main tube. Classical
    cylinder intersection: (sqrt(R² - (e + r sin)²) + r cos cos a) / sin a.
    """
    at, angle = radians(at_deg), radians(angle_deg)
    across = offset_mm + skin_mm * sin(at)
    height = sqrt(max(0.0, main_mm**2 - across**2))
    return (height + skin_mm * cos(at) * cos(angle)) / sin(angle)


def cope(question: CopeQuestion) -> dict[str, Any]:
    """The profile round the branch, the line to cut to, and the notcher's setting."""
    outer_r = question.branch.od / 2
    inner_r = outer_r - question.branch.wall
    main_r = question.main.od / 2

    def meets(at_deg: float, skin_mm: float) -> float:
        return reach_mm(
            at_deg,
            skin_mm=skin_mm,
            main_mm=main_r,
            angle_deg=question.angle,
            offset_mm=question.offset,
        )

    profile = []
    for number in range(question.samples):
        at = 360 * number / question.samples
        outer, inner = meets(at, outer_r), meets(at, inner_r)
        profile.append(
            {
                "at": _rounded(at),
                "outer": _rounded(outer),
                "inner": _rounded(inner),
                "cut": _rounded(max(outer, inner)),
            }
        )
    shortest, longest = _extremes(
        outer_r, main_r, radians(question.angle), question.offset
    )
    return {
        "dial": _rounded(90 - question.angle),
        "longest": _rounded(longest),
        "shortest": _rounded(shortest),
        "profile": profile,
    }


def _extremes(r: float, big: float, angle: float, offset: float) -> tuple[float, float]:
    """Least and greatest reach of the outer skin over the full turn."""

    def at(turn: float) -> float:
        across = offset + r * sin(turn)
        height = sqrt(max(0.0, big**2 - across**2))
        return (height + r * cos(turn) * cos(angle)) / sin(angle)

    # The slope changes sign only a few times in a turn, so each fine step holds at
    # most one turning point, and halving by golden section closes in on it.
    steps = 1440
    turns = [2 * pi * number / steps for number in range(steps)]
    values = [at(turn) for turn in turns]
    least = min(range(steps), key=values.__getitem__)
    most = max(range(steps), key=values.__getitem__)
    width = 2 * pi / steps
    low = _turning(lambda x: at(x), turns[least] - width, turns[least] + width)
    high = -_turning(lambda x: -at(x), turns[most] - width, turns[most] + width)
    return low, high


def _turning(f: Any, a: float, b: float) -> float:
    golden = (sqrt(5) - 1) / 2
    for _ in range(80):
        c, d = b - golden * (b - a), a + golden * (b - a)
        if f(c) < f(d):
            b = d
        else:
            a = c
    return float(min(f(a), f(b), f((a + b) / 2)))


def _rounded(value: float) -> float:
    return round(value, _DECIMALS) + 0.0
