"""Readings against limits; a limit itself is within."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from fabshop import words
from fabshop.reckoning.drawing.verdict import allowed_words, off_by_um, verdict

V = words.CheckVerdict


@pytest.mark.parametrize(
    ("reading_um", "found"),
    [
        (39_700, V.WITHIN),
        (39_699, V.UNDER),
        (40_300, V.WITHIN),
        (40_301, V.OVER),
    ],
)
def test_the_limits_belong_to_what_is_within(
    reading_um: int, found: words.CheckVerdict
) -> None:
    limits = {"nominal_um": 40_000, "lower_um": -300, "upper_um": 300}
    assert verdict(**limits, reading_um=reading_um) is found


@given(st.integers(0, 10**6), st.integers(0, 2000), st.integers(-5000, 5000))
def test_what_is_off_is_off_by_just_so_much(nominal: int, by: int, off: int) -> None:
    limits = {"nominal_um": nominal + 5000, "lower_um": -by, "upper_um": by}
    reading = nominal + 5000 + off
    outside = off_by_um(**limits, reading_um=reading)
    assert (outside == 0) == (verdict(**limits, reading_um=reading) is V.WITHIN)
    assert verdict(**limits, reading_um=reading - outside) is V.WITHIN


def test_the_limits_in_words() -> None:
    assert allowed_words(40_000, -300, 300) == "40 ±0.3 mm"
    assert allowed_words(40_000, -300, 100) == "40 +0.1 −0.3 mm"
    assert allowed_words(40_000, 100, 300) == "40 +0.3 +0.1 mm"
