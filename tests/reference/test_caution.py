"""Cautions: where each is from, and that the shop's own sentence defers."""

from __future__ import annotations

import pytest

from fabshop.reference.caution import DEFER, cautions, told


@pytest.mark.parametrize(
    ("code", "says", "source"),
    [
        ("argon", "sinks and fills low", "HSE"),
        # 29 CFR 1910.133(a)(5): shade 8 is the least for GTAW up to 150 A
        ("arc", "names 8 as the least up to 150 A", "1910.133"),
        # EM 385-1-1 10.G.02: 35 ft
        ("arc", "10 m away", "35 ft"),
        ("solvent", "No chlorinated solvent", "10.G.01"),
        ("fines", "water on them can explode", "International Titanium Association"),
    ],
)
def test_a_caution_says_what_its_source_says(code: str, says: str, source: str) -> None:
    row = cautions()[code]
    assert says in row.text
    assert source in row.source


def test_cautions_are_told_once_each_and_defer_last() -> None:
    rows = told(["argon", "", "arc", "argon", "nothing-of-ours"])
    assert [row.code for row in rows] == ["argon", "arc", DEFER]
    assert "licensed practice" in rows[-1].text
    assert told([""]) == []
