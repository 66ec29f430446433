"""What a measured dimension comes to; the person decides what becomes of the piece."""

from __future__ import annotations

from fabshop import words
from fabshop.units import show_milli


def verdict(
    *, nominal_um: int, lower_um: int, upper_um: int, reading_um: int
) -> words.CheckVerdict:
    """Within where the reading is neither below nor above; a limit itself is within.

    `lower_um` and `upper_um` are deviations from nominal, mostly one of each sign.
    """
    if reading_um < nominal_um + lower_um:
        return words.CheckVerdict.UNDER
    if reading_um > nominal_um + upper_um:
        return words.CheckVerdict.OVER
    return words.CheckVerdict.WITHIN


def off_by_um(*, nominal_um: int, lower_um: int, upper_um: int, reading_um: int) -> int:
    """How far outside the limits a reading is, with its sign; 0 where it is within."""
    low, high = nominal_um + lower_um, nominal_um + upper_um
    return min(0, reading_um - low) + max(0, reading_um - high)


def allowed_words(nominal_um: int, lower_um: int, upper_um: int) -> str:
    """40 ±0.3 mm, or 40 +0.1 −0.3 mm where the two sides differ."""
    nominal = show_milli(nominal_um)
    if lower_um == -upper_um:
        return f"{nominal} ±{show_milli(upper_um)} mm"
    sides = " ".join(
        f"{'+' if um >= 0 else '−'}{show_milli(abs(um))}" for um in (upper_um, lower_um)
    )
    return f"{nominal} {sides} mm"
