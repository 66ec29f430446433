"""The unrolled template, wrapped round the tube again in space, lies on the main."""

from __future__ import annotations

from math import cos, pi, radians, sin

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from fabshop.reckoning.wrap import CopeEnd, Strip, Template, corrected, strips

LOWER = CopeEnd(12, 55, 0.7)
UPPER = CopeEnd(14, 41.2, -1.1)


def on_the_tube(x_mm: float, up_mm: float, template: Template) -> np.ndarray:
    """Where a point of the paper lies when it is wrapped print side out.

    The tube stands on z, the paper upright round it. Whoever looks at the paper from
    outside has up above and the right hand side where x goes: right × up = outward.
    """
    turn = 2 * pi * x_mm / template.wrap_mm - pi
    r = template.od_mm / 2
    return np.array([r * cos(turn), r * sin(turn), up_mm])


def right_is_right(template: Template) -> None:
    """The wrapping above keeps the print outside: nothing is mirrored."""
    here = on_the_tube(5.0, 0.0, template)
    right = on_the_tube(5.001, 0.0, template) - here
    up = on_the_tube(5.0, 0.001, template) - here
    assert np.dot(np.cross(right, up), here) > 0


def distance(point: np.ndarray, main: np.ndarray, through: np.ndarray) -> float:
    return float(np.linalg.norm(np.cross(point - through, main)))


@pytest.mark.parametrize("twist", [0.0, 22.0, -137.0, 180.0])
def test_both_printed_lines_lie_on_their_mains_when_wrapped(twist: float) -> None:
    template = Template(8, 0.9, (LOWER, UPPER), twist)
    right_is_right(template)
    length = 150.0
    lower, upper = strips(template)
    # The tube runs up z from its first crossing; the clocking line is on +x, which is
    # the first end's acute line. Its main leans towards that line.
    a = radians(LOWER.angle_deg)
    main = np.array([sin(a), 0, cos(a)])
    # An offset moves the tube towards its own 90, so the main lies the other way.
    through = np.array([0, -LOWER.offset_mm, 0])
    # The other end's acute line is `twist` on counterclockwise seen from above.
    t, b = radians(twist), radians(UPPER.angle_deg)
    acute = np.array([cos(t), sin(t), 0])
    down = np.array([0.0, 0.0, -1.0])
    other_main = sin(b) * acute + cos(b) * down
    other_90 = np.cross(down, acute)
    other_through = np.array([0, 0, length]) - UPPER.offset_mm * other_90
    for turn in range(-180, 181, 5):
        x = template.x_mm(turn)
        foot = on_the_tube(x, lower.outer_mm(turn), template)
        assert distance(foot, main, through) == pytest.approx(6, abs=1e-9)
        head = on_the_tube(x, length - upper.outer_mm(turn), template)
        assert distance(head, other_main, other_through) == pytest.approx(7, abs=1e-9)


def test_wrapped_print_side_in_it_would_not_fit() -> None:
    template = Template(8, 0.9, (LOWER,))
    (lower,) = strips(template)
    a = radians(LOWER.angle_deg)
    main, through = np.array([sin(a), 0, cos(a)]), np.array([0, -LOWER.offset_mm, 0])
    off = [
        abs(
            distance(
                on_the_tube(template.x_mm(-turn), lower.outer_mm(turn), template),
                main,
                through,
            )
            - 6
        )
        for turn in range(-180, 181, 5)
    ]
    assert max(off) > 0.1


def test_the_scale_of_the_lower_strip_runs_right_and_of_the_upper_left() -> None:
    lower, upper = strips(Template(8, 0.9, (LOWER, UPPER), 22))
    assert lower.at_deg(30) == 30
    assert lower.turn_deg(270) == -90
    # Both ends find the other's acute line at the same number on their own scale.
    assert lower.turn_deg(22) == upper.turn_deg(0)
    assert upper.turn_deg(22) == lower.turn_deg(0) == 0
    assert upper.at_deg(10) == 12


@given(
    st.floats(4, 60),
    st.floats(0.1, 0.9),
    st.floats(1, 2),
    st.floats(15, 90),
    st.floats(-180, 180),
)
def test_a_strip_holds_its_whole_line(
    od: float, wall: float, times: float, angle: float, twist: float
) -> None:
    ends = (CopeEnd(od * times, angle), CopeEnd(od * times, angle))
    for strip in strips(Template(od, od / 2 * wall, ends, twist)):
        for turn in range(-180, 181, 7):
            assert strip.cut_mm(turn) >= strip.outer_mm(turn)
            assert strip.waste_edge_mm < strip.outer_mm(turn) < strip.keep_edge_mm
            assert strip.turn_deg(strip.at_deg(turn)) % 360 == pytest.approx(turn % 360)
        assert strip.height_mm > strip.longest_mm - strip.shortest_mm


def test_the_wrap_goes_once_round_the_middle_of_the_paper() -> None:
    template = Template(8, 0.9, (LOWER,), paper_mm=0.1)
    assert template.wrap_mm == pytest.approx(pi * 8.1)
    assert template.x_mm(-180) == 0
    assert template.x_mm(180) == pytest.approx(template.wrap_mm)
    (strip,) = strips(template)
    assert isinstance(strip, Strip)
    assert strip.turns()[0] == -180
    assert template.x_mm(strip.turns()[-1]) == pytest.approx(template.wrap_mm + 8)


def test_a_short_bar_is_stretched_back() -> None:
    assert corrected(48.5) == pytest.approx(1.0309278)
    assert corrected(50.0, 1.03) == 1.03
