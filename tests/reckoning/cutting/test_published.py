"""Published cutting examples, and the cut list of the demo's bed and cab hoop."""

from __future__ import annotations

from typing import Any

import pytest

from fabshop.reckoning.ask import reckon
from fabshop.reckoning.cutting.first_fit import first_fit
from tests.reckoning.cutting.asked import ROLLS, compiled, one_length
from tests.reckoning.cutting.replay import replay

# Falkenauer's u120_00 (OR-Library, binpack1): bars of 150, fewest 48. First fit
# decreasing takes 49.
U120_00 = """
42 69 67 57 93 90 38 36 45 42 33 79 27 57 44 84 86 92 46 38 85 33 82 73 49 70 59 23
57 72 74 69 33 42 28 46 30 64 29 74 41 49 55 98 80 32 25 38 82 30 35 39 57 84 62 50
55 27 30 36 20 78 47 26 45 41 58 98 91 96 73 84 37 93 91 43 73 85 81 79 71 80 76 83
41 78 70 23 42 87 43 84 60 55 49 78 73 62 36 44 94 69 32 96 70 84 58 78 25 80 58 66
83 24 98 60 42 43 43 39
"""


@pytest.mark.parametrize(
    ("length", "wanted", "fewest"),
    [
        (5600, ROLLS, 73),
        # Chvatal, Linear Programming (1983), pages 195 to 198.
        (100, {45: 97, 36: 610, 31: 395, 14: 211}, 453),
        # The cutting example of the AMPL book, chapter 15.
        (110, {20: 48, 45: 35, 50: 24, 55: 10, 75: 8}, 47),
        # MiniZinc's cutstock.mzn.
        (10, {7: 2, 5: 2, 3: 4}, 4),
    ],
)
def test_the_published_optimum_is_proven(
    length: int, wanted: dict[int, int], fewest: int
) -> None:
    asked = one_length(length, wanted, time_limit_s=20)
    answer = reckon("cutlist", asked)
    replay(asked, answer)
    assert answer["status"] == "optimal"
    assert answer["totals"]["opened"] == fewest


def test_where_first_fit_takes_one_bar_too_many() -> None:
    lengths = [int(word) for word in U120_00.split()]
    assert (len(lengths), sum(lengths)) == (120, 7078)
    asked = one_length(
        150, {each: lengths.count(each) for each in lengths}, time_limit_s=4
    )
    problem = compiled(asked)
    assert len(first_fit(problem, lambda kind: (kind,))) == 49
    answer = reckon("cutlist", asked)
    replay(asked, answer)
    assert answer["totals"]["opened"] == 48
    assert answer.get("gap", {"aim": "drop"})["aim"] == "drop"


def tubes(*ids: str) -> list[dict[str, Any]]:
    lengths = {"M07": 1000, "M08": 1000, "M10": 347, "M11": 181}
    return [{"id": name, "length": lengths[name]} for name in ids]


def test_the_bed_and_the_cab_hoop_need_one_piece_less_than_by_hand() -> None:
    """By hand all four pieces are opened, and 193 and 45 mm are left.

    Both ends of each length are dressed by 1 mm.
    """
    wanted = {
        "L02": (176, 2),
        "L03": (212, 1),
        "L04": (194, 2),
        "L05": (212, 2),
        "L06": (268, 2),
        "L07": (318, 1),
    }
    asked = {
        "kerf": 1.2,
        "stock": tubes("M07", "M08", "M10", "M11"),
        "pieces": [
            {"id": name, "length": length + 2, "count": count}
            for name, (length, count) in wanted.items()
        ],
    }
    answer = reckon("cutlist", asked)
    cut, _, length, drop = replay(asked, answer)
    assert answer["status"] == "optimal"
    assert (cut, answer["short"]) == (10, [])
    assert -length == 2347, "M11 stays whole: 181 mm, where by hand it is used up"
    assert float(drop) == 45.2
    by_stock = {bar["stock"]: bar["pieces"] for bar in answer["bars"]}
    assert by_stock["M10"] == ["L07"]


def test_one_upright_fits_the_drop_with_less_than_two_millimetres_left() -> None:
    asked = {
        "kerf": 1.2,
        "stock": tubes("M11"),
        "pieces": [{"id": "L02", "length": 178}],
    }
    answer = reckon("cutlist", asked)
    assert answer["bars"][0]["left"] == 1.8
