"""Blanks on sheets against known optima, an area bound and a replay of every answer."""

from __future__ import annotations

from math import ceil
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from fabshop.reckoning.ask import reckon


def asked(
    sheets: list[tuple[float, float]],
    blanks: list[tuple[float, float]],
    *,
    kerf: float = 0,
    sheet_grain: str = "",
    grain: str = "",
    limit: float = 2,
) -> dict[str, Any]:
    question = {
        "kerf": kerf,
        "time_limit_s": limit,
        "sheets": [
            {"id": f"s{n}", "length": a, "width": b, "grain": sheet_grain}
            for n, (a, b) in enumerate(sheets)
        ],
        "blanks": [
            {"id": f"b{n}", "length": a, "width": b, "grain": grain}
            for n, (a, b) in enumerate(blanks)
        ],
    }
    answer = reckon("blanks", question)
    assert fault(question, answer) == ""
    return answer


def fault(question: dict[str, Any], answer: dict[str, Any]) -> str:
    """What is wrong with an answer, replayed with nothing but the question."""
    kerf = question["kerf"]
    sheets = {sheet["id"]: sheet for sheet in question["sheets"]}
    blanks = {blank["id"]: blank for blank in question["blanks"]}
    seen: list[str] = []
    for sheet in answer["sheets"]:
        stock = sheets[sheet["sheet"]]
        laid = sheet["blanks"]
        for one in laid:
            blank = blanks[one["blank"]]
            seen.append(one["blank"])
            size = (
                (one["width"], one["length"])
                if one["turned"]
                else (
                    one["length"],
                    one["width"],
                )
            )
            if size != (blank["length"], blank["width"]):
                return f"{one['blank']} has changed its size"
            if (
                blank["grain"]
                and stock["grain"]
                and one["turned"] != (blank["grain"] != stock["grain"])
            ):
                return f"{one['blank']} lies across the grain"
            if one["x"] < 0 or one["x"] + one["length"] > stock["length"] + 1e-9:
                return f"{one['blank']} leaves the sheet"
            if one["y"] < 0 or one["y"] + one["width"] > stock["width"] + 1e-9:
                return f"{one['blank']} leaves the sheet"
            drop = sheet["drop"]
            if drop and one["x"] + one["length"] + kerf > (
                stock["length"] - drop["length"] + 1e-6
            ):
                return f"{one['blank']} lies in the drop"
        for n, one in enumerate(laid):
            for other in laid[n + 1 :]:
                apart = (
                    one["x"] + one["length"] + kerf <= other["x"] + 1e-9
                    or other["x"] + other["length"] + kerf <= one["x"] + 1e-9
                    or one["y"] + one["width"] + kerf <= other["y"] + 1e-9
                    or other["y"] + other["width"] + kerf <= one["y"] + 1e-9
                )
                if not apart:
                    return f"{one['blank']} and {other['blank']} overlap"
    short = {line["blank"]: line["count"] for line in answer["short"]}
    for name, blank in blanks.items():
        count = blank.get("count", 1)
        if seen.count(name) + short.get(name, 0) != count:
            return f"{name} is counted wrongly"
    return ""


def test_four_halves_of_a_square_need_two_sheets() -> None:
    answer = asked([(100, 100)] * 4, [(100, 50)] * 4)
    assert answer["status"] == "optimal"
    assert answer["totals"]["opened"] == answer["totals"]["fewest"] == 2


def test_a_pinwheel_fills_its_square() -> None:
    # Four of 2 x 1 around a 1 x 1 make a 3 x 3: the smallest packing that no saw
    # cutting right across can make.
    answer = asked([(30, 30)], [(20, 10)] * 4 + [(10, 10)])
    assert answer["status"] == "optimal"
    assert answer["short"] == []
    assert answer["sheets"][0]["yield"] == 1


def test_nine_squares_fill_the_squared_rectangle() -> None:
    # Moron 1925: nine squares of different sizes tile 33 x 32.
    sides = (18, 15, 14, 10, 9, 8, 7, 4, 1)
    answer = asked([(33, 32)], [(side, side) for side in sides], limit=20)
    assert answer["status"] == "optimal"
    assert answer["short"] == []
    assert answer["sheets"][0]["yield"] == 1


def test_the_kerf_between_them_takes_a_second_sheet() -> None:
    blanks = [(100.0, 50.0)] * 2
    assert asked([(100, 100)] * 2, blanks)["totals"]["opened"] == 1
    assert asked([(100, 100)] * 2, blanks, kerf=1.2)["totals"]["opened"] == 2
    assert asked([(100, 101.2)] * 2, blanks, kerf=1.2)["totals"]["opened"] == 1


def test_grain_forbids_turning() -> None:
    assert asked([(100, 50)], [(50, 100)])["short"] == []
    short = asked([(100, 50)], [(50, 100)], sheet_grain="length", grain="length")
    assert short["short"] == [
        {
            "blank": "b0",
            "count": 1,
            "why": "larger than every sheet, as its grain must run",
        }
    ]
    turned = asked([(100, 50)], [(50, 100)], sheet_grain="length", grain="width")
    assert turned["sheets"][0]["blanks"][0]["turned"]


def test_a_drop_that_costs_nothing_is_taken_before_a_new_sheet() -> None:
    question = {
        "sheets": [
            {"id": "new", "length": 400, "width": 300, "cost": 1200},
            {"id": "drop", "length": 140, "width": 260},
        ],
        "blanks": [{"id": "a", "length": 120, "width": 60, "count": 4}],
    }
    answer = reckon("blanks", question)
    assert [sheet["sheet"] for sheet in answer["sheets"]] == ["drop"]
    assert answer["totals"]["cost"] == 0


def test_what_is_left_is_one_drop_as_long_as_can_be() -> None:
    answer = asked([(400, 300)], [(90, 140), (90, 140)], kerf=2)
    # Side by side, 90 along the sheet: 400 - 90 - 2.
    assert answer["sheets"][0]["drop"] == {"length": 308, "width": 300}
    assert answer["totals"]["drop_is_proven"]


def test_what_does_not_fit_is_said() -> None:
    answer = asked([(100, 100)], [(60, 60), (60, 60), (200, 10)])
    assert sorted((line["blank"], line["why"]) for line in answer["short"]) == [
        ("b1", "no sheet with room for it is left"),
        ("b2", "larger than every sheet"),
    ]


def test_no_blanks_and_no_sheets_are_answered() -> None:
    assert asked([], [(1, 1)])["short"][0]["count"] == 1
    assert asked([(1, 1)], [])["sheets"] == []


sizes = st.tuples(st.integers(1, 12), st.integers(1, 12))


@settings(max_examples=10, deadline=None)
@given(blanks=st.lists(sizes, min_size=1, max_size=6), kerf=st.sampled_from([0, 1]))
def test_never_fewer_sheets_than_their_area_needs(
    blanks: list[tuple[int, int]], kerf: int
) -> None:
    given_ = [(float(a), float(b)) for a, b in blanks]
    answer = asked([(12, 12)] * len(blanks), given_, kerf=kerf)
    assert answer["short"] == []
    area = sum((a + kerf) * (b + kerf) for a, b in blanks)
    least = ceil(area / (12 + kerf) ** 2)
    assert least <= answer["totals"]["opened"] <= len(blanks)
    if answer["status"] == "optimal":
        assert answer["totals"]["fewest"] == answer["totals"]["opened"]


@pytest.mark.parametrize("count", [12])
def test_a_shop_size_question_is_proven(count: int) -> None:
    blanks = [(60.0 + 7 * (n % 5), 30.0 + 11 * (n % 4)) for n in range(count)]
    answer = asked([(300, 200)] * 3, blanks, kerf=1.2)
    assert answer["status"] == "optimal"
