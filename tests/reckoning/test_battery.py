"""Watt-hours and their class at and beside the published limits."""

from __future__ import annotations

from typing import Any

import pytest

from fabshop.reckoning.battery import battery
from fabshop.reckoning.questions.battery import battery_question


def classed(**pack: Any) -> tuple[float | None, str]:
    answer = battery(battery_question({"packs": [{"id": "p", **pack}]}))
    return answer["packs"][0]["wh"], answer["packs"][0]["limit"]


# Watt-hours are volts times ampere-hours; the limits of 49 CFR 175.10(a)(18) and of
# FAA PackSafe are 100 and 160 Wh, both still within their class.
@pytest.mark.parametrize(
    ("cells", "volts", "mah", "wh", "limit"),
    [
        (6, 3.7, 1300, 28.86, "up to 100 Wh"),
        (4, 3.7, 5000, 74.0, "up to 100 Wh"),
        (6, 3.7, 4500, 99.9, "up to 100 Wh"),
        (6, 3.7, 5000, 111.0, "over 100 to 160 Wh"),
        (12, 3.7, 3600, 159.84, "over 100 to 160 Wh"),
        (7, 3.6, 6400, 161.28, "over 160 Wh"),
        (1, 1.0, 100_000, 100.0, "up to 100 Wh"),
        (1, 1.0, 100_010, 100.01, "over 100 to 160 Wh"),
        (1, 1.0, 160_000, 160.0, "over 100 to 160 Wh"),
        (1, 1.0, 160_010, 160.01, "over 160 Wh"),
        (3, 3.7, 1300, 14.43, "up to 100 Wh"),
    ],
)
def test_the_class_at_and_beside_each_limit(
    cells: int, volts: float, mah: float, wh: float, limit: str
) -> None:
    found = classed(cells=cells, volts_per_cell=volts, mah=mah)
    assert found == (pytest.approx(wh), limit)


def test_a_blank_label_is_unknown_and_not_nothing() -> None:
    assert classed(cells=3) == (None, "unknown")


def test_the_answer_names_its_source_and_leaves_the_ruling_to_the_carrier() -> None:
    answer = battery(battery_question({"packs": []}))
    assert "49 CFR 175.10" in answer["source"]
    assert "carrier decides" in answer["caution"]
