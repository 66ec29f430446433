"""What was typed: between the tubes, from its obtuse side, or off the dial."""

from __future__ import annotations

import pytest

from fabshop.errors import BadInput
from fabshop.reckoning.frame.angle import angle_typed, doubt_about


@pytest.mark.parametrize("typed", [0, -5, 180, 200])
def test_row_36_two_tubes_in_one_line_have_no_cope(typed: float) -> None:
    with pytest.raises(BadInput, match=r"is not between 0 and 180 degrees"):
        angle_typed(typed)


def test_row_36_past_square_the_supplement_stands_and_the_side_is_said() -> None:
    read = angle_typed(117.5)
    assert read.angle_deg == 62.5
    assert read.dial_deg == 27.5
    assert read.notes == (
        "117.5° was measured on the obtuse side; 62.5° is the same joint from its "
        "acute side. The 0 mark goes on the acute side, across the tube from where "
        "you measured.",
    )


def test_row_36_square_is_plain() -> None:
    assert angle_typed(90).notes == ()
    assert angle_typed(90).dial_deg == 0


@pytest.mark.parametrize("typed", [19.9, 165])
def test_row_36_below_twenty_degrees_is_a_feather_edge(typed: float) -> None:
    assert "feather edge" in angle_typed(typed).notes[-1]
    assert angle_typed(20).notes == ()


def test_what_agrees_raises_no_doubt() -> None:
    assert doubt_about(64.5, 65, "the frame") == ""
    assert doubt_about(115, 65, "the frame") == ""


def test_row_37_the_dial_typed_for_the_angle_is_asked_about() -> None:
    assert doubt_about(25, 65, "the twin") == (
        "25° was typed, the twin says 65.0°, and 25 is what the dial reads for 65. "
        "Angle between, or dial?"
    )


def test_at_45_both_read_alike_and_nothing_is_asked() -> None:
    assert doubt_about(45, 45, "the frame") == ""


def test_another_difference_is_told_without_a_guess() -> None:
    assert doubt_about(50, 65, "the frame") == (
        "50° was typed, but the frame says 65.0°."
    )
