"""Cells of ISO 2768-1 and ISO 9013, spot-checked against published copies."""

from __future__ import annotations

import pytest

from fabshop import words
from fabshop.reference.tolerance import deviation, tolerances

T = words.Tolerance


@pytest.mark.parametrize(
    ("tolerance", "nominal_um", "deviation_um"),
    [
        # ISO 2768-1:1989 table 1 (issuu.com/zaqueu_cs and two other copies)
        (T.FINE, 500, 50),
        (T.FINE, 6000, 50),
        (T.FINE, 6001, 100),
        (T.MEDIUM, 3000, 100),
        (T.MEDIUM, 40_000, 300),
        (T.MEDIUM, 120_000, 300),
        (T.MEDIUM, 120_001, 500),
        (T.MEDIUM, 4_000_000, 2000),
        # One scanned copy reads 0.15 for this bin; two others 0.2.
        (T.COARSE, 2000, 200),
        (T.COARSE, 1_500_000, 3000),
        (T.VERY_COARSE, 5000, 500),
        (T.VERY_COARSE, 400_000, 2500),
    ],
)
def test_iso_2768_1(
    tolerance: words.Tolerance, nominal_um: int, deviation_um: int
) -> None:
    row = deviation(tolerance, nominal_um)
    assert row is not None
    assert row.deviation_um == deviation_um
    assert "ISO 2768-1:1989" in row.source


@pytest.mark.parametrize(
    ("tolerance", "thickness_um", "nominal_um", "deviation_um"),
    [
        # modulusmetal.com/iso-9013-thermal-cutting-dimensional-tolerances
        (T.THERMAL_1, 800, 40_000, 200),
        (T.THERMAL_1, 1000, 2999, 75),
        (T.THERMAL_1, 1500, 3000, 150),
        (T.THERMAL_1, 2000, 125_000, 250),
        (T.THERMAL_1, 6300, 35_000, 250),
        (T.THERMAL_1, 12_000, 5_000_000, 1500),
        (T.THERMAL_1, 32_000, 20_000, 700),
        (T.THERMAL_2, 1500, 40_000, 700),
        (T.THERMAL_2, 8000, 500_000, 1500),
    ],
)
def test_iso_9013_by_thickness(
    tolerance: words.Tolerance, thickness_um: int, nominal_um: int, deviation_um: int
) -> None:
    row = deviation(tolerance, nominal_um, thickness_um)
    assert row is not None
    assert row.deviation_um == deviation_um
    assert "ISO 9013" in row.source


@pytest.mark.parametrize(
    ("tolerance", "nominal_um", "thickness_um"),
    [
        (T.MEDIUM, 499, None),
        (T.FINE, 2_000_001, None),
        (T.VERY_COARSE, 2000, None),
        (T.THERMAL_1, 40_000, None),
        (T.THERMAL_1, 40_000, 33_000),
        (T.THERMAL_1, 2000, 8000),
        (T.THERMAL_2, 40_000, 12_000),
        (T.LIMITS, 40_000, 2000),
    ],
)
def test_where_the_standard_says_nothing_there_is_nothing(
    tolerance: words.Tolerance, nominal_um: int, thickness_um: int | None
) -> None:
    assert deviation(tolerance, nominal_um, thickness_um) is None


def test_thicker_and_longer_is_never_tighter() -> None:
    """Nothing in the tables gets stricter the larger the dimension."""
    for tolerance in (T.FINE, T.MEDIUM, T.COARSE, T.VERY_COARSE):
        rows = [row for row in tolerances() if row.tolerance is tolerance]
        by_size = [row.deviation_um for row in sorted(rows, key=lambda r: r.from_um)]
        assert by_size == sorted(by_size)
